//! Landmarks: what the body network sees of one person in one frame.

use crate::geometry::PixelPoint;
use crate::swing::{Hand, Side};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The 33 points of the body network, in its order. Left and right are the person's own.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
#[repr(usize)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Joint {
    Nose,
    LeftEyeInner,
    LeftEye,
    LeftEyeOuter,
    RightEyeInner,
    RightEye,
    RightEyeOuter,
    LeftEar,
    RightEar,
    MouthLeft,
    MouthRight,
    LeftShoulder,
    RightShoulder,
    LeftElbow,
    RightElbow,
    LeftWrist,
    RightWrist,
    LeftPinky,
    RightPinky,
    LeftIndex,
    RightIndex,
    LeftThumb,
    RightThumb,
    LeftHip,
    RightHip,
    LeftKnee,
    RightKnee,
    LeftAnkle,
    RightAnkle,
    LeftHeel,
    RightHeel,
    LeftFootIndex,
    RightFootIndex,
}

/// How many landmarks a body has.
pub const LANDMARKS: usize = 33;

const ALL: [Joint; LANDMARKS] = [
    Joint::Nose,
    Joint::LeftEyeInner,
    Joint::LeftEye,
    Joint::LeftEyeOuter,
    Joint::RightEyeInner,
    Joint::RightEye,
    Joint::RightEyeOuter,
    Joint::LeftEar,
    Joint::RightEar,
    Joint::MouthLeft,
    Joint::MouthRight,
    Joint::LeftShoulder,
    Joint::RightShoulder,
    Joint::LeftElbow,
    Joint::RightElbow,
    Joint::LeftWrist,
    Joint::RightWrist,
    Joint::LeftPinky,
    Joint::RightPinky,
    Joint::LeftIndex,
    Joint::RightIndex,
    Joint::LeftThumb,
    Joint::RightThumb,
    Joint::LeftHip,
    Joint::RightHip,
    Joint::LeftKnee,
    Joint::RightKnee,
    Joint::LeftAnkle,
    Joint::RightAnkle,
    Joint::LeftHeel,
    Joint::RightHeel,
    Joint::LeftFootIndex,
    Joint::RightFootIndex,
];

/// A paired part of the body; with a [`Side`] and a [`Hand`] it names a [`Joint`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[expect(missing_docs, reason = "the names say it")]
pub enum BodyPart {
    Ear,
    Shoulder,
    Elbow,
    Wrist,
    Hip,
    Knee,
    Ankle,
    Heel,
    /// The tip of the foot (the network's "foot index").
    Toe,
}

impl Joint {
    /// The joint with that place in the network's order, from 0; `None` past the last.
    pub fn from_number(number: usize) -> Option<Joint> {
        ALL.get(number).copied()
    }

    /// Plain English, as shown to people: "left knee".
    pub fn plain(self) -> &'static str {
        match self {
            Joint::Nose => "nose",
            Joint::LeftEyeInner => "left eye's inner corner",
            Joint::LeftEye => "left eye",
            Joint::LeftEyeOuter => "left eye's outer corner",
            Joint::RightEyeInner => "right eye's inner corner",
            Joint::RightEye => "right eye",
            Joint::RightEyeOuter => "right eye's outer corner",
            Joint::LeftEar => "left ear",
            Joint::RightEar => "right ear",
            Joint::MouthLeft => "mouth's left corner",
            Joint::MouthRight => "mouth's right corner",
            Joint::LeftShoulder => "left shoulder",
            Joint::RightShoulder => "right shoulder",
            Joint::LeftElbow => "left elbow",
            Joint::RightElbow => "right elbow",
            Joint::LeftWrist => "left wrist",
            Joint::RightWrist => "right wrist",
            Joint::LeftPinky => "left little finger",
            Joint::RightPinky => "right little finger",
            Joint::LeftIndex => "left forefinger",
            Joint::RightIndex => "right forefinger",
            Joint::LeftThumb => "left thumb",
            Joint::RightThumb => "right thumb",
            Joint::LeftHip => "left hip",
            Joint::RightHip => "right hip",
            Joint::LeftKnee => "left knee",
            Joint::RightKnee => "right knee",
            Joint::LeftAnkle => "left ankle",
            Joint::RightAnkle => "right ankle",
            Joint::LeftHeel => "left heel",
            Joint::RightHeel => "right heel",
            Joint::LeftFootIndex => "left toe",
            Joint::RightFootIndex => "right toe",
        }
    }

    /// The joint that is `side` of a player who plays `hand`: the lead side of a right-hander is
    /// the left.
    pub fn of(part: BodyPart, side: Side, hand: Hand) -> Joint {
        let left = match hand {
            Hand::Right => side == Side::Lead,
            Hand::Left => side == Side::Trail,
        };
        let (l, r) = match part {
            BodyPart::Ear => (Joint::LeftEar, Joint::RightEar),
            BodyPart::Shoulder => (Joint::LeftShoulder, Joint::RightShoulder),
            BodyPart::Elbow => (Joint::LeftElbow, Joint::RightElbow),
            BodyPart::Wrist => (Joint::LeftWrist, Joint::RightWrist),
            BodyPart::Hip => (Joint::LeftHip, Joint::RightHip),
            BodyPart::Knee => (Joint::LeftKnee, Joint::RightKnee),
            BodyPart::Ankle => (Joint::LeftAnkle, Joint::RightAnkle),
            BodyPart::Heel => (Joint::LeftHeel, Joint::RightHeel),
            BodyPart::Toe => (Joint::LeftFootIndex, Joint::RightFootIndex),
        };
        if left { l } else { r }
    }
}

/// One landmark in one frame.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Landmark {
    /// Where, in pixels of the upright frame.
    pub at: PixelPoint,
    /// The network's depth relative to the mid-hip, px of the frame, plus away from the camera.
    /// Weak: never report a turn straight from it.
    pub depth_px: f64,
    /// Probability in 0..=1 that the point is in the picture and not hidden. It is no error flag
    /// for arms.
    pub visibility: f64,
    /// How widely it may be wrong, where that is said: of joint centres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spread: Option<Spread>,
}

/// The joints whose centres the networks of the project's own give.
pub const JOINT_CENTRES: [Joint; 17] = [
    Joint::Nose,
    Joint::LeftShoulder,
    Joint::RightShoulder,
    Joint::LeftElbow,
    Joint::RightElbow,
    Joint::LeftWrist,
    Joint::RightWrist,
    Joint::LeftHip,
    Joint::RightHip,
    Joint::LeftKnee,
    Joint::RightKnee,
    Joint::LeftAnkle,
    Joint::RightAnkle,
    Joint::LeftHeel,
    Joint::RightHeel,
    Joint::LeftFootIndex,
    Joint::RightFootIndex,
];

/// A joint's centre as the joint network sees it in one frame.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct JointCentre {
    /// Where, in pixels of the upright frame.
    pub at: PixelPoint,
    /// Depth from the mid-hip, px of the frame, plus away from the camera.
    pub depth_px: f64,
    /// How widely both may be wrong.
    pub spread: Spread,
}

/// How widely a point may be wrong: standard deviations of its slow, pose-dependent error, which
/// hangs together over many frames.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Spread {
    /// Of each coordinate in the picture, px.
    pub at_px: f64,
    /// Of the depth, px.
    pub depth_px: f64,
}

/// The golfer in one frame; `body` is `None` where the network saw nobody.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BodyFrame {
    /// Frame number in the clip, from 0, in presentation order.
    pub frame: usize,
    /// Presentation time from the clip's first frame, s of the file's own clock.
    pub time_s: f64,
    /// The landmarks.
    pub body: Option<Landmarks>,
}

/// All landmarks of one person in one frame.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Landmarks {
    /// Probability in 0..=1 that a person is there at all.
    pub presence: f64,
    /// In the order of [`Joint`].
    pub points: Vec<Landmark>,
    /// What the joint network saw, in the order of [`JOINT_CENTRES`], where it looked at the picture;
    /// else empty.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub joint_centres: Vec<JointCentre>,
}

impl Landmarks {
    /// One point.
    pub fn get(&self, joint: Joint) -> Landmark {
        self.points[joint as usize]
    }
}

/// The golfer through a stretch of a clip, frame by frame.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct LandmarkTrack {
    /// Width of the upright frame, px.
    pub width_px: u32,
    /// Height of the upright frame, px.
    pub height_px: u32,
    /// Frames in order of time.
    pub frames: Vec<BodyFrame>,
}
