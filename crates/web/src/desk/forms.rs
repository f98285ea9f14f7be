//! What the desk's forms ask for, as choices.

use crate::pages::{moment_key, view_key};
use crate::routes::Fields;
use lessonwright_model::{
    Choices, ChosenPicture, DoseChoice, Moment, PriorityChoice, SwingAnalysis, Teaching,
};

/// In a form: what is proposed, and nothing.
pub const PROPOSED: &str = "as proposed";
pub const NOTHING: &str = "nothing";

/// The name of the box that shows a picture, and of the words under it.
pub fn picture_names(moment: &Moment) -> [String; 2] {
    ["show", "words"].map(|what| {
        format!(
            "{what}:{}:{}",
            view_key(moment.view),
            moment_key(moment.name)
        )
    })
}

/// What is taught, from its form. A drill that was chosen for another thing is let go.
pub fn teaching(fields: &Fields, before: &Teaching, now: &SwingAnalysis) -> Teaching {
    let said = |name: &str| fields.get(name).map_or("", |text| text.trim());
    let why = said("why").to_owned();
    let priority = match said("work_on") {
        "" | PROPOSED => PriorityChoice::AsProposed,
        NOTHING => PriorityChoice::Nothing { why },
        fact => PriorityChoice::Other {
            fact: fact.to_owned(),
            why,
        },
    };
    let fact = |choice: &PriorityChoice| match choice {
        PriorityChoice::AsProposed => PROPOSED.to_owned(),
        PriorityChoice::Nothing { .. } => NOTHING.to_owned(),
        PriorityChoice::Other { fact, .. } => fact.clone(),
    };
    let is_same_thing = fact(&priority) == fact(&before.priority);
    let first = now.drills.first().map(|drill| drill.key.as_str());
    let drill = match said("drill") {
        _ if !is_same_thing => None,
        "" => before.drill.clone(),
        // The first of them, which nobody had to choose.
        key if before.drill.is_none() && first == Some(key) => None,
        key => Some(key.to_owned()),
    };
    let dose = match said("dose") {
        "half" => DoseChoice::Half,
        _ => DoseChoice::AsProposed,
    };
    Teaching {
        priority,
        drill,
        dose,
    }
}

/// The professional's words and pictures, from their form; `usual` are the pictures shown where none is chosen.
pub fn words(
    fields: &Fields,
    before: Choices,
    now: &SwingAnalysis,
    usual: impl Fn(&Moment) -> bool,
) -> Choices {
    let pictures = now.moments.iter().filter_map(|moment| {
        let [show, words] = picture_names(moment);
        fields.contains_key(&show).then(|| ChosenPicture {
            view: moment.view,
            moment: moment.name,
            caption: fields.get(&words).map_or("", |text| text.trim()).to_owned(),
        })
    });
    let pictures: Vec<ChosenPicture> = pictures.collect();
    let is_usual = |moment: &Moment| {
        let is = |one: &&ChosenPicture| (one.view, one.moment) == (moment.view, moment.name);
        let chosen = pictures.iter().find(is);
        chosen.is_some() == usual(moment) && chosen.is_none_or(|one| one.caption.is_empty())
    };
    let all_usual = before.pictures.is_none() && now.moments.iter().all(is_usual);
    Choices {
        note: fields.get("note").map(|note| note.trim().to_owned()),
        pictures: (!all_usual).then_some(pictures),
        ..before
    }
}
