//! How to film the check of a prescription, so that the new number can be compared.
//!
//! Distances and heights are common practice, no source, within what the rendered test swings
//! cover (3–6 m). Half a metre off the line at 5 m turns a down-the-line picture by 5.7°
//! (atan 0.5/5), hence the words on standing square.

use crate::wording::{Filling, directed};
use lessonwright_model::{Hand, MeasureName, MomentName, View};

/// In sentences: where the phone stands, what to film, which number to look for.
pub(crate) fn how_to_film(
    measure: MeasureName,
    moment: MomentName,
    reach: f64,
    hand: Hand,
) -> String {
    let place = match view_for(measure) {
        View::FaceOn => {
            "Film face-on: phone upright on a stand at waist height, 4 to 5 m (13 to 16 ft) from \
             you, opposite the middle of your stance and square to the target line."
        }
        View::DownTheLine => {
            "Film down the line: phone upright on a stand at waist height, 4 to 5 m (13 to 16 ft) \
             behind you on the line of your hands, looking toward the target. Lay a stick on the \
             ground along the target line, clear of the club: in the picture it must point straight \
             up."
        }
    };
    format!(
        "{place} Whole body and club in the picture, in slow motion if the phone has it (120 frames \
         a second or more). Three swings with the same club as today, from the same place. {} \
         A change smaller than the ± is not yet a change: compare the middle one of the three.",
        aim(measure, moment, reach, hand)
    )
}

/// How to check what no camera measures: by eye, with the drill's own checkpoint.
pub(crate) fn how_to_look(checkpoint: &str) -> String {
    format!(
        "No camera measures this: look. {checkpoint} Take a picture of it today and one in a week, from the same \
         place, and lay them side by side."
    )
}

/// The view in which a measure is at its best; of what takes both, the one to start with.
pub(crate) fn view_for(measure: MeasureName) -> View {
    use MeasureName::{
        ChestForwardBend, HandDepth, HandsOverWayBack, HeadTowardBall, KneeLineTurn,
        PelvisTowardBall, TrailElbowAhead, TrailKneeTowardBall,
    };
    match measure {
        KneeLineTurn | TrailElbowAhead | PelvisTowardBall | ChestForwardBend | HeadTowardBall
        | HandDepth | HandsOverWayBack | TrailKneeTowardBall => View::DownTheLine,
        _ => View::FaceOn,
    }
}

fn aim(measure: MeasureName, moment: MomentName, reach: f64, hand: Hand) -> String {
    let number = directed(measure, reach);
    let when = moment.plain();
    let template = match measure {
        MeasureName::PelvisShift => format!("hips {number} ({when})"),
        MeasureName::KneeLineTurn => format!("knees {number} than at address ({when})"),
        MeasureName::TrailElbowAhead => {
            format!("{{trail}} elbow {number} the middle of your {{trail}} side ({when})")
        }
        _ if measure.is_timing() => number,
        _ => format!("{} {number} ({when})", measure.plain()),
    };
    format!(
        "The number to reach: {}.",
        Filling::of(hand).fill(&template)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shift_is_checked_face_on_and_the_rest_down_the_line() {
        let film = |measure| how_to_film(measure, MomentName::LeadArmLevelDown, -1.0, Hand::Left);
        assert!(film(MeasureName::PelvisShift).starts_with("Film face-on"));
        assert!(film(MeasureName::KneeLineTurn).starts_with("Film down the line"));
        let elbow = film(MeasureName::TrailElbowAhead);
        assert!(
            elbow.contains("left elbow 1.0 cm (0.4 in) behind the middle of your left"),
            "{elbow}"
        );
    }
}
