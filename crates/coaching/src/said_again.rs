//! A prescription that is kept, said in another language: who, what and how much stay as they were decided.

use crate::book::DrillBook;
use crate::causes::CauseTable;
use crate::check::{how_to_film, how_to_look};
use crate::screening::ScreeningRules;
use crate::wording::Filling;
use jiff::Timestamp;
use lessonwright_model::{Hand, PlayerFacts, SwingAnalysis};

/// What a prescription is said from: all in one language.
#[derive(Clone, Copy, Debug)]
pub struct Words<'a> {
    /// For the priority's title.
    pub causes: &'a CauseTable,
    /// For the drills.
    pub book: &'a DrillBook,
    /// For why a dose is lowered.
    pub screening: &'a ScreeningRules,
}

/// An analysis with its priority's title, its drills and its prescription in these words, for a player as known `now`. What
/// the words do not know stays as it is.
pub fn said_again(
    analysis: &SwingAnalysis,
    player: &PlayerFacts,
    words: &Words<'_>,
    now: Timestamp,
) -> SwingAnalysis {
    let mut said = analysis.clone();
    let (Some(priority), Some(prescription)) = (&mut said.priority, &mut said.prescription) else {
        return said;
    };
    let Some(body) = words.causes.body(&priority.finding) else {
        return said;
    };
    let language = words.causes.language();
    let hand = analysis.views.first().map_or(Hand::Right, |view| view.hand);
    let care = words.screening.screen(player, now).care;
    priority.title = Filling::of(hand).fill(&body.title);
    for drill in &mut said.drills {
        if let Some(page) = words.book.page(&drill.key) {
            *drill = page.worded_for(body, hand, &care);
        }
    }
    if let Some(drill) = said.drills.iter().find(|one| one.key == prescription.drill) {
        prescription.cue.clone_from(&drill.cue_outward);
        prescription.dose.clone_from(&drill.dose);
        prescription.check = match (prescription.measure, prescription.reach) {
            (Some(measure), Some(reach)) => {
                how_to_film(measure, prescription.moment, reach, hand, language)
            }
            _ => how_to_look(&drill.checkpoint, language),
        };
    }
    said
}
