//! Joints in words.

use lessonwright_language::{Text, t};
use lessonwright_model::Joint;

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
        for index in 0..lessonwright_model::body::LANDMARKS {
            let joint = Joint::from_number(index).expect("a landmark");
            assert_eq!(Say::default().text(&joint_words(joint)), joint.plain());
        }
    }
}
