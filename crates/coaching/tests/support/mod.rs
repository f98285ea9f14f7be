//! Measures to judge, built by hand. Units as at the edge: cm, degrees, ratio.

#![allow(dead_code, reason = "each test file uses its own part")]

use lessonwright_coaching::{CauseTable, Coaching, DrillBook, Targets, coach};
use lessonwright_model::{
    Hand, Measure, MeasureName, MeasureState, MomentName, PlayerFacts, Unit, View,
};
use std::sync::LazyLock;

/// A measure's place: name, moment, against, unit, view.
pub type Place = (MeasureName, MomentName, Option<MomentName>, Unit, View);

pub const SHIFT_DOWN: Place = (
    MeasureName::PelvisShift,
    MomentName::LeadArmLevelDown,
    Some(MomentName::Top),
    Unit::Centimetre,
    View::FaceOn,
);
pub const KNEES: Place = (
    MeasureName::KneeLineTurn,
    MomentName::LeadArmLevelDown,
    Some(MomentName::Address),
    Unit::Degree,
    View::DownTheLine,
);
pub const ELBOW: Place = (
    MeasureName::TrailElbowAhead,
    MomentName::LeadArmLevelDown,
    None,
    Unit::Centimetre,
    View::DownTheLine,
);
pub const SHIFT_AT_IMPACT: Place = (
    MeasureName::PelvisShift,
    MomentName::Impact,
    Some(MomentName::Address),
    Unit::Centimetre,
    View::FaceOn,
);
pub const TEMPO: Place = (
    MeasureName::TempoRatio,
    MomentName::Impact,
    None,
    Unit::One,
    View::FaceOn,
);

/// In the order of the case table's columns.
pub const PLACES: [Place; 5] = [SHIFT_DOWN, KNEES, ELBOW, SHIFT_AT_IMPACT, TEMPO];

/// A measured measure.
pub fn measured(place: Place, value: f64, half_width: f64) -> Measure {
    let (name, moment, against, unit, view) = place;
    Measure {
        name,
        moment,
        against,
        view: Some(view),
        value: Some(value),
        unit,
        low: Some(value - half_width),
        high: Some(value + half_width),
        state: MeasureState::Measured,
        reason: String::new(),
    }
}

/// The same place without a number.
pub fn hidden(place: Place) -> Measure {
    Measure {
        value: None,
        low: None,
        high: None,
        state: MeasureState::NotMeasured,
        reason: "hidden behind the body".into(),
        ..measured(place, 0.0, 0.0)
    }
}

/// A healthy adult.
pub fn adult(flight: &str) -> PlayerFacts {
    PlayerFacts {
        name: "Ada Example".into(),
        age_years: Some(40),
        usual_flight: Some(flight.into()),
        health_note: Some(String::new()),
        ..PlayerFacts::default()
    }
}

/// Judged with the project's targets, drills and causes.
pub fn judge(measures: &[Measure], hand: Hand, player: &PlayerFacts) -> Coaching {
    static STANDARD: LazyLock<(Targets, DrillBook, CauseTable)> = LazyLock::new(|| {
        (
            Targets::standard(),
            DrillBook::standard(),
            CauseTable::standard(),
        )
    });
    let (targets, book, causes) = &*STANDARD;
    coach(measures, hand, player, targets, book, causes)
}

/// Every text a player or professional reads.
pub fn all_texts(coaching: &Coaching) -> Vec<String> {
    let mut texts: Vec<String> = coaching.for_professional.clone();
    texts.extend(coaching.notice.clone());
    texts.extend(coaching.findings.iter().map(|finding| finding.says.clone()));
    if let Some(priority) = &coaching.priority {
        texts.push(priority.title.clone());
        texts.extend(priority.chain.clone());
        texts.push(priority.would_change_it.clone());
    }
    for drill in &coaching.drills {
        texts.extend(drill_texts(drill));
    }
    if let Some(prescription) = &coaching.prescription {
        texts
            .extend([&prescription.cue, &prescription.dose, &prescription.check].map(Clone::clone));
        texts.extend(prescription.cautions.clone());
    }
    texts
}

/// Every text of a drill.
pub fn drill_texts(drill: &lessonwright_model::Drill) -> Vec<String> {
    let mut texts = vec![
        drill.title.clone(),
        drill.changes.clone(),
        drill.feel.clone(),
        drill.dose.clone(),
    ];
    for list in [
        &drill.set_up,
        &drill.steps,
        &drill.watch_for,
        &drill.cautions,
    ] {
        texts.extend(list.clone());
    }
    texts
}

/// The text with the words left and right exchanged.
pub fn mirrored(text: &str) -> String {
    let swap = |word: &str| match word {
        "left" => "right".to_string(),
        "right" => "left".to_string(),
        "Left" => "Right".to_string(),
        "Right" => "Left".to_string(),
        other => other.to_string(),
    };
    let (mut out, mut word) = (String::new(), String::new());
    for c in text.chars() {
        if c.is_alphabetic() {
            word.push(c);
        } else {
            out.push_str(&swap(&std::mem::take(&mut word)));
            out.push(c);
        }
    }
    out + &swap(&word)
}
