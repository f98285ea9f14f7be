//! The trade's words that are types in `model`, as texts. Their English is what `plain()` says there.

use crate::{Text, t};
use lessonwright_model::{
    BodyArea, Hand, Joint, MeasureName, MomentName, Part, PracticePlace, Season, View,
};

/// A moment: "lead arm level, coming down".
pub fn moment(moment: MomentName) -> Text {
    t(match moment {
        MomentName::Address => "word-moment-address",
        MomentName::ShaftLevelBack => "word-moment-shaft-level-back",
        MomentName::LeadArmLevelBack => "word-moment-lead-arm-level-back",
        MomentName::Top => "word-moment-top",
        MomentName::LeadArmLevelDown => "word-moment-lead-arm-level-down",
        MomentName::ShaftLevelDown => "word-moment-shaft-level-down",
        MomentName::Impact => "word-moment-impact",
        MomentName::Finish => "word-moment-finish",
    })
}

/// A moment inside a sentence: "at impact".
pub fn at_moment(moment: MomentName) -> Text {
    t(match moment {
        MomentName::Address => "word-at-address",
        MomentName::ShaftLevelBack => "word-at-shaft-level-back",
        MomentName::LeadArmLevelBack => "word-at-lead-arm-level-back",
        MomentName::Top => "word-at-top",
        MomentName::LeadArmLevelDown => "word-at-lead-arm-level-down",
        MomentName::ShaftLevelDown => "word-at-shaft-level-down",
        MomentName::Impact => "word-at-impact",
        MomentName::Finish => "word-at-finish",
    })
}

/// A view: "down the line".
pub fn view(view: View) -> Text {
    t(match view {
        View::FaceOn => "word-view-face-on",
        View::DownTheLine => "word-view-down-the-line",
    })
}

/// A view as a heading: "Down the line".
pub fn view_title(view: View) -> Text {
    t(match view {
        View::FaceOn => "word-view-title-face-on",
        View::DownTheLine => "word-view-title-down-the-line",
    })
}

/// A moment as a heading: "Lead arm level, coming down".
pub fn moment_title(moment: MomentName) -> Text {
    t(match moment {
        MomentName::Address => "word-title-address",
        MomentName::ShaftLevelBack => "word-title-shaft-level-back",
        MomentName::LeadArmLevelBack => "word-title-lead-arm-level-back",
        MomentName::Top => "word-title-top",
        MomentName::LeadArmLevelDown => "word-title-lead-arm-level-down",
        MomentName::ShaftLevelDown => "word-title-shaft-level-down",
        MomentName::Impact => "word-title-impact",
        MomentName::Finish => "word-title-finish",
    })
}

/// "left-handed".
pub fn hand(hand: Hand) -> Text {
    t(match hand {
        Hand::Right => "word-hand-right",
        Hand::Left => "word-hand-left",
    })
}

/// A part of the body as a heading.
pub fn part(part: Part) -> Text {
    t(match part {
        Part::Pelvis => "word-part-pelvis",
        Part::Chest => "word-part-chest",
        Part::Head => "word-part-head",
        Part::Arms => "word-part-arms",
        Part::Club => "word-part-club",
        Part::Legs => "word-part-legs",
        Part::Timing => "word-part-timing",
    })
}

/// A joint: "left knee".
pub fn joint(joint: Joint) -> Text {
    t(match joint {
        Joint::Nose => "word-joint-nose",
        Joint::LeftEyeInner => "word-joint-left-eye-inner",
        Joint::LeftEye => "word-joint-left-eye",
        Joint::LeftEyeOuter => "word-joint-left-eye-outer",
        Joint::RightEyeInner => "word-joint-right-eye-inner",
        Joint::RightEye => "word-joint-right-eye",
        Joint::RightEyeOuter => "word-joint-right-eye-outer",
        Joint::LeftEar => "word-joint-left-ear",
        Joint::RightEar => "word-joint-right-ear",
        Joint::MouthLeft => "word-joint-mouth-left",
        Joint::MouthRight => "word-joint-mouth-right",
        Joint::LeftShoulder => "word-joint-left-shoulder",
        Joint::RightShoulder => "word-joint-right-shoulder",
        Joint::LeftElbow => "word-joint-left-elbow",
        Joint::RightElbow => "word-joint-right-elbow",
        Joint::LeftWrist => "word-joint-left-wrist",
        Joint::RightWrist => "word-joint-right-wrist",
        Joint::LeftPinky => "word-joint-left-pinky",
        Joint::RightPinky => "word-joint-right-pinky",
        Joint::LeftIndex => "word-joint-left-index",
        Joint::RightIndex => "word-joint-right-index",
        Joint::LeftThumb => "word-joint-left-thumb",
        Joint::RightThumb => "word-joint-right-thumb",
        Joint::LeftHip => "word-joint-left-hip",
        Joint::RightHip => "word-joint-right-hip",
        Joint::LeftKnee => "word-joint-left-knee",
        Joint::RightKnee => "word-joint-right-knee",
        Joint::LeftAnkle => "word-joint-left-ankle",
        Joint::RightAnkle => "word-joint-right-ankle",
        Joint::LeftHeel => "word-joint-left-heel",
        Joint::RightHeel => "word-joint-right-heel",
        Joint::LeftFootIndex => "word-joint-left-toe",
        Joint::RightFootIndex => "word-joint-right-toe",
    })
}

/// A place that hurts.
pub fn area(area: BodyArea) -> Text {
    t(match area {
        BodyArea::LowBack => "word-area-low-back",
        BodyArea::UpperBack => "word-area-upper-back",
        BodyArea::Neck => "word-area-neck",
        BodyArea::Shoulder => "word-area-shoulder",
        BodyArea::Elbow => "word-area-elbow",
        BodyArea::WristHand => "word-area-wrist-hand",
        BodyArea::Hip => "word-area-hip",
        BodyArea::Knee => "word-area-knee",
        BodyArea::AnkleFoot => "word-area-ankle-foot",
        BodyArea::Chest => "word-area-chest",
        BodyArea::Elsewhere => "word-area-elsewhere",
    })
}

/// Where is practised.
pub fn place(place: PracticePlace) -> Text {
    t(match place {
        PracticePlace::Home => "word-place-home",
        PracticePlace::Mat => "word-place-mat",
        PracticePlace::Range => "word-place-range",
        PracticePlace::Course => "word-place-course",
    })
}

/// When in the year.
pub fn season(season: Season) -> Text {
    t(match season {
        Season::Playing => "word-season-playing",
        Season::Between => "word-season-between",
        Season::Returning => "word-season-returning",
    })
}

/// A measure: "pelvis shift".
pub fn measure(measure: MeasureName) -> Text {
    t(match measure {
        MeasureName::PelvisShift => "word-measure-pelvis-shift",
        MeasureName::PelvisTowardBall => "word-measure-pelvis-toward-ball",
        MeasureName::PelvisTurn => "word-measure-pelvis-turn",
        MeasureName::PelvisSideBend => "word-measure-pelvis-side-bend",
        MeasureName::ChestTurn => "word-measure-chest-turn",
        MeasureName::ChestSideBend => "word-measure-chest-side-bend",
        MeasureName::ChestForwardBend => "word-measure-chest-forward-bend",
        MeasureName::HeadShift => "word-measure-head-shift",
        MeasureName::HeadRise => "word-measure-head-rise",
        MeasureName::HeadTowardBall => "word-measure-head-toward-ball",
        MeasureName::LeadElbowFlexion => "word-measure-lead-elbow-flexion",
        MeasureName::TrailElbowFlexion => "word-measure-trail-elbow-flexion",
        MeasureName::TrailElbowAhead => "word-measure-trail-elbow-ahead",
        MeasureName::HandDepth => "word-measure-hand-depth",
        MeasureName::HandHeight => "word-measure-hand-height",
        MeasureName::HandsOverWayBack => "word-measure-hands-over-way-back",
        MeasureName::ShaftLean => "word-measure-shaft-lean",
        MeasureName::ShaftSlope => "word-measure-shaft-slope",
        MeasureName::ShaftSteepening => "word-measure-shaft-steepening",
        MeasureName::WristSet => "word-measure-wrist-set",
        MeasureName::BallStart => "word-measure-ball-start",
        MeasureName::KneeLineTurn => "word-measure-knee-line-turn",
        MeasureName::LeadKneeFlexion => "word-measure-lead-knee-flexion",
        MeasureName::TrailKneeFlexion => "word-measure-trail-knee-flexion",
        MeasureName::TrailKneeTowardBall => "word-measure-trail-knee-toward-ball",
        MeasureName::StanceWidth => "word-measure-stance-width",
        MeasureName::MassOverFeet => "word-measure-mass-over-feet",
        MeasureName::BackswingTime => "word-measure-backswing-time",
        MeasureName::DownswingTime => "word-measure-downswing-time",
        MeasureName::TempoRatio => "word-measure-tempo-ratio",
        MeasureName::PelvisPeak => "word-measure-pelvis-peak",
        MeasureName::ChestPeak => "word-measure-chest-peak",
        MeasureName::LeadArmPeak => "word-measure-lead-arm-peak",
        MeasureName::HandsPeak => "word-measure-hands-peak",
        MeasureName::ChestAfterPelvis => "word-measure-chest-after-pelvis",
        MeasureName::LeadArmAfterChest => "word-measure-lead-arm-after-chest",
    })
}

/// Which way a measure's number points: "toward the target" for plus; none where it has no direction.
pub fn way(measure: MeasureName, plus: bool) -> Option<Text> {
    let [of_plus, of_minus] = match measure {
        MeasureName::PelvisShift => [
            Some("word-way-toward-the-target"),
            Some("word-way-away-from-the-target"),
        ],
        MeasureName::PelvisTowardBall => [
            Some("word-way-toward-the-ball"),
            Some("word-way-away-from-the-ball"),
        ],
        MeasureName::PelvisTurn => [Some("word-way-more-open"), Some("word-way-more-closed")],
        MeasureName::PelvisSideBend => [
            Some("word-way-lead-side-higher"),
            Some("word-way-trail-side-higher"),
        ],
        MeasureName::ChestTurn => [Some("word-way-more-open"), Some("word-way-more-closed")],
        MeasureName::ChestSideBend => [
            Some("word-way-lead-side-higher"),
            Some("word-way-trail-side-higher"),
        ],
        MeasureName::ChestForwardBend => [Some("word-way-forward"), Some("word-way-backward")],
        MeasureName::HeadShift => [
            Some("word-way-toward-the-target"),
            Some("word-way-away-from-the-target"),
        ],
        MeasureName::HeadRise => [Some("word-way-up"), Some("word-way-down")],
        MeasureName::HeadTowardBall => [
            Some("word-way-toward-the-ball"),
            Some("word-way-away-from-the-ball"),
        ],
        MeasureName::LeadElbowFlexion => [Some("word-way-bent"), Some("word-way-overstretched")],
        MeasureName::TrailElbowFlexion => [Some("word-way-bent"), Some("word-way-overstretched")],
        MeasureName::TrailElbowAhead => [
            Some("word-way-ahead-of-the-middle-of-the-side"),
            Some("word-way-behind-the-middle-of-the-side"),
        ],
        MeasureName::HandDepth => [
            Some("word-way-toward-the-ball"),
            Some("word-way-away-from-the-ball"),
        ],
        MeasureName::HandHeight => [Some("word-way-higher"), Some("word-way-lower")],
        MeasureName::HandsOverWayBack => [Some("word-way-over"), Some("word-way-under")],
        MeasureName::ShaftLean => [Some("word-way-hands-ahead"), Some("word-way-hands-behind")],
        MeasureName::ShaftSteepening => [Some("word-way-steeper"), Some("word-way-shallower")],
        MeasureName::WristSet => [Some("word-way-set"), None],
        MeasureName::BallStart => [
            Some("word-way-away-from-the-player"),
            Some("word-way-toward-the-player"),
        ],
        MeasureName::KneeLineTurn => [Some("word-way-more-open"), Some("word-way-more-closed")],
        MeasureName::LeadKneeFlexion => [Some("word-way-bent"), Some("word-way-overstretched")],
        MeasureName::TrailKneeFlexion => [Some("word-way-bent"), Some("word-way-overstretched")],
        MeasureName::TrailKneeTowardBall => [
            Some("word-way-toward-the-ball"),
            Some("word-way-away-from-the-ball"),
        ],
        MeasureName::MassOverFeet => [
            Some("word-way-of-the-way-from-trail-to-lead-ankle"),
            Some("word-way-beyond-the-trail-ankle"),
        ],
        MeasureName::PelvisPeak => [
            Some("word-way-before-impact"),
            Some("word-way-after-impact"),
        ],
        MeasureName::ChestPeak => [
            Some("word-way-before-impact"),
            Some("word-way-after-impact"),
        ],
        MeasureName::LeadArmPeak => [
            Some("word-way-before-impact"),
            Some("word-way-after-impact"),
        ],
        MeasureName::HandsPeak => [
            Some("word-way-before-impact"),
            Some("word-way-after-impact"),
        ],
        MeasureName::ChestAfterPelvis => [Some("word-way-later"), Some("word-way-earlier")],
        MeasureName::LeadArmAfterChest => [Some("word-way-later"), Some("word-way-earlier")],
        _ => [None, None],
    };
    (if plus { of_plus } else { of_minus }).map(t)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Language, Say};
    use lessonwright_model::body::LANDMARKS;

    /// One word for one thing: the command line says what the pages say.
    #[test]
    fn the_english_is_what_model_says() {
        let say = Say::new(Language::English);
        for name in MeasureName::ALL {
            assert_eq!(say.text(&measure(name)), name.plain());
            for (plus, words) in [true, false].into_iter().zip(name.directions()) {
                let said = way(name, plus).map_or(String::new(), |way| say.text(&way));
                assert_eq!(said, words, "{name:?}");
            }
            assert_eq!(say.text(&part(name.part())), name.part().title());
        }
        for name in MomentName::ALL {
            assert_eq!(say.text(&moment(name)), name.plain());
            assert_eq!(say.text(&at_moment(name)), format!("at {}", name.plain()));
        }
        for one in (0..LANDMARKS).filter_map(Joint::from_number) {
            assert_eq!(say.text(&joint(one)), one.plain());
        }
        for one in BodyArea::ALL {
            assert_eq!(say.text(&area(one)), one.plain());
        }
        for one in PracticePlace::ALL {
            assert_eq!(say.text(&place(one)), one.plain());
        }
        for one in Season::ALL {
            assert_eq!(say.text(&season(one)), one.plain());
        }
        for one in [View::FaceOn, View::DownTheLine] {
            assert_eq!(say.text(&view(one)), one.to_string());
        }
        for one in [Hand::Right, Hand::Left] {
            assert_eq!(say.text(&hand(one)), one.to_string());
        }
    }
}
