//! What a film of the swing says and shows: the words under it at a moment, and the lines over it.

use crate::content::LessonContent;
use crate::overlay::Overlay;
use crate::page::{captions_at, hand_in, view_of};
use crate::said::capital;
use lessonwright_language::{Say, t, words};
use lessonwright_model::{Finding, Hand, MeasureName, MomentName, View};

/// A line in bold and one below it.
pub type FilmWords = [String; 2];

/// Away from the moments: whose lesson, and what it is about.
pub fn film_title(content: &LessonContent) -> FilmWords {
    let about = content.analysis.priority.as_ref();
    let about = about.map_or_else(String::new, |priority| priority.title.clone());
    let title = t("lesson-heading").with("player", &content.player);
    [content.say.text(&title), about]
}

/// At a moment: its name, and what was found there, or the numbers of the checks there.
pub fn film_words(content: &LessonContent, moment: MomentName) -> FilmWords {
    let finding = finding(content).filter(|finding| finding.moment == moment);
    let text = match finding {
        Some(finding) => finding.says.clone(),
        None => captions_at(content, moment).join(" · "),
    };
    [moment_title(moment, content.say), text]
}

/// A moment's name as people read it.
pub fn moment_title(moment: MomentName, say: Say) -> String {
    capital(&say.text(&words::moment(moment)))
}

/// True at the moment that the lesson is about.
pub fn film_stands_long(content: &LessonContent, moment: MomentName) -> bool {
    finding(content).is_some_and(|finding| finding.moment == moment)
}

/// Of what can be drawn over a view, what the film shows: the lines of the finding where the view shows it, else
/// the figure. Between the moments nobody has measured, so no arrow is drawn: it would stand for a number.
pub fn film_lines(content: &LessonContent, view: View, drawn: &Overlay) -> Overlay {
    const LINES: [MeasureName; 3] = [
        MeasureName::PelvisShift,
        MeasureName::KneeLineTurn,
        MeasureName::TrailElbowAhead,
    ];
    let about = finding(content).map(|finding| finding.measure);
    let lines = match about {
        Some(measure) if LINES.contains(&measure) && view_of(measure) == view => {
            drawn.only(measure)
        }
        _ => Overlay {
            before: None,
            now: None,
            trunk_side: None,
            elbow: None,
            ..drawn.clone()
        },
    };
    Overlay {
        shift: None,
        ..lines
    }
}

/// The hand that is played.
pub fn film_hand(content: &LessonContent, view: View) -> Hand {
    hand_in(content, view)
}

/// What the priority rests on.
fn finding(content: &LessonContent) -> Option<&Finding> {
    let priority = content.analysis.priority.as_ref()?;
    let mut findings = content.analysis.findings.iter();
    findings.find(|finding| finding.key == priority.finding)
}
