//! How to film the check of a prescription, so that the new number can be compared.
//!
//! Distances and heights are common practice, no source, within what the rendered test swings
//! cover (3–6 m). Half a metre off the line at 5 m turns a down-the-line picture by 5.7°
//! (atan 0.5/5), hence the words on standing square.

use crate::wording::{Filling, directed};
use lessonwright_language::{Language, Say, Text, t, words};
use lessonwright_model::{Hand, MeasureName, MomentName, View};

/// In sentences: where the phone stands, what to film, which number to look for.
pub(crate) fn how_to_film(
    measure: MeasureName,
    moment: MomentName,
    reach: f64,
    hand: Hand,
    language: Language,
) -> String {
    let place = match view_for(measure) {
        View::FaceOn => t("coaching-film-face-on"),
        View::DownTheLine => t("coaching-film-down-the-line"),
    };
    let film = t("coaching-film")
        .with("place", place)
        .with("aim", aim(measure, moment, reach, hand, language));
    Say::new(language).text(&film)
}

/// How to check what no camera measures: by eye, with the drill's own checkpoint.
pub(crate) fn how_to_look(checkpoint: &str, language: Language) -> String {
    Say::new(language).text(&t("coaching-look").with("checkpoint", checkpoint))
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

fn aim(
    measure: MeasureName,
    moment: MomentName,
    reach: f64,
    hand: Hand,
    language: Language,
) -> Text {
    let number = directed(measure, reach);
    if measure.is_timing() {
        return number;
    }
    let aim = match measure {
        MeasureName::PelvisShift => t("coaching-aim-hips"),
        MeasureName::KneeLineTurn => t("coaching-aim-knees"),
        MeasureName::TrailElbowAhead => Filling::of(hand).trail(t("coaching-aim-elbow"), language),
        _ => t("coaching-aim").with("measure", words::measure(measure)),
    };
    aim.with("number", number)
        .with("when", words::moment(moment))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shift_is_checked_face_on_and_the_rest_down_the_line() {
        let film = |measure| {
            how_to_film(
                measure,
                MomentName::LeadArmLevelDown,
                -1.0,
                Hand::Left,
                Language::English,
            )
        };
        assert!(film(MeasureName::PelvisShift).starts_with("Film face-on"));
        assert!(film(MeasureName::KneeLineTurn).starts_with("Film down the line"));
        let elbow = film(MeasureName::TrailElbowAhead);
        assert!(
            elbow.contains("left elbow 1.0 cm (0.4 in) behind the middle of your left"),
            "{elbow}"
        );
    }
}
