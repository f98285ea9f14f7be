//! The words of the bench's scripts, and joints in words.

use lessonwright_language::{Text, t};
use lessonwright_model::Joint;

/// What the scripts say that other pages use as well (`strip.js`).
pub const SHARED_WORDS: &[&str] = &[
    "bench-s-no-answer",
    "bench-s-answered",
    "bench-s-broke",
    "bench-s-unknown-form",
    "bench-s-not-whole",
    "bench-s-frame",
];

/// What the scripts of the bench alone say.
pub const WORDS: &[&str] = &[
    "bench-s-stills-stay",
    "bench-s-failed",
    "bench-s-apart",
    "bench-s-on-way",
    "bench-s-all-the-same",
    "bench-s-try-again",
    "bench-s-trying",
    "bench-s-pause",
    "bench-s-other-page",
    "bench-s-at",
    "bench-s-at-before",
    "bench-s-computed",
    "bench-s-computed-one",
    "bench-s-unchanged",
    "bench-s-before",
    "bench-s-frame-of",
    "bench-s-frame-at",
    "bench-s-frame-after",
    "bench-s-before-impact",
    "bench-s-after-impact",
    "bench-s-by-hand",
    "bench-s-damaged",
    "bench-s-coming",
    "bench-s-in-picture",
    "bench-s-from-level",
    "bench-s-stroke",
    "bench-s-no-scale",
    "bench-s-mirrored",
    "bench-s-go-to",
    "bench-s-moves",
    "bench-s-placed",
    "bench-s-mark",
    "bench-s-body-front",
    "bench-s-body-line",
    "bench-s-body-behind",
    "bench-s-body-target",
    "bench-s-body-above",
    "bench-s-body-hint",
    "bench-s-body-label",
    "bench-s-body-none",
    "bench-s-body-both",
    "bench-s-body-one",
    "bench-s-body-around",
    "bench-s-target",
    "bench-play",
    "bench-s-tool-ruler",
    "bench-s-tool-angle",
    "bench-s-tool-line",
    "bench-s-tool-pen",
    "word-view-face-on",
    "word-view-down-the-line",
    "word-moment-address",
    "word-moment-shaft-level-back",
    "word-moment-lead-arm-level-back",
    "word-moment-top",
    "word-moment-lead-arm-level-down",
    "word-moment-shaft-level-down",
    "word-moment-impact",
    "word-moment-finish",
    "bench-joint-nose",
    "bench-joint-left-shoulder",
    "bench-joint-right-shoulder",
    "bench-joint-left-elbow",
    "bench-joint-right-elbow",
    "bench-joint-left-wrist",
    "bench-joint-right-wrist",
    "bench-joint-left-hip",
    "bench-joint-right-hip",
    "bench-joint-left-knee",
    "bench-joint-right-knee",
    "bench-joint-left-ankle",
    "bench-joint-right-ankle",
    "bench-joint-left-heel",
    "bench-joint-right-heel",
    "bench-joint-left-toe",
    "bench-joint-right-toe",
];

/// "left knee".
pub fn joint_words(joint: Joint) -> Text {
    t(match joint {
        Joint::Nose => "bench-joint-nose",
        Joint::LeftEyeInner => "bench-joint-left-eye-inner",
        Joint::LeftEye => "bench-joint-left-eye",
        Joint::LeftEyeOuter => "bench-joint-left-eye-outer",
        Joint::RightEyeInner => "bench-joint-right-eye-inner",
        Joint::RightEye => "bench-joint-right-eye",
        Joint::RightEyeOuter => "bench-joint-right-eye-outer",
        Joint::LeftEar => "bench-joint-left-ear",
        Joint::RightEar => "bench-joint-right-ear",
        Joint::MouthLeft => "bench-joint-mouth-left",
        Joint::MouthRight => "bench-joint-mouth-right",
        Joint::LeftShoulder => "bench-joint-left-shoulder",
        Joint::RightShoulder => "bench-joint-right-shoulder",
        Joint::LeftElbow => "bench-joint-left-elbow",
        Joint::RightElbow => "bench-joint-right-elbow",
        Joint::LeftWrist => "bench-joint-left-wrist",
        Joint::RightWrist => "bench-joint-right-wrist",
        Joint::LeftPinky => "bench-joint-left-pinky",
        Joint::RightPinky => "bench-joint-right-pinky",
        Joint::LeftIndex => "bench-joint-left-index",
        Joint::RightIndex => "bench-joint-right-index",
        Joint::LeftThumb => "bench-joint-left-thumb",
        Joint::RightThumb => "bench-joint-right-thumb",
        Joint::LeftHip => "bench-joint-left-hip",
        Joint::RightHip => "bench-joint-right-hip",
        Joint::LeftKnee => "bench-joint-left-knee",
        Joint::RightKnee => "bench-joint-right-knee",
        Joint::LeftAnkle => "bench-joint-left-ankle",
        Joint::RightAnkle => "bench-joint-right-ankle",
        Joint::LeftHeel => "bench-joint-left-heel",
        Joint::RightHeel => "bench-joint-right-heel",
        Joint::LeftFootIndex => "bench-joint-left-toe",
        Joint::RightFootIndex => "bench-joint-right-toe",
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_language::Say;

    /// One word for one thing: the command line says what the pages say.
    #[test]
    fn the_english_is_what_model_says() {
        for index in 0..lessonwright_model::LANDMARKS {
            let joint = Joint::from_number(index).expect("a landmark");
            assert_eq!(Say::default().text(&joint_words(joint)), joint.plain());
        }
    }
}
