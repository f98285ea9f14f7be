//! The figure at one instant: joint centres and the frames of its rigid parts.
//!
//! World axes: x toward the target, y up, z from the player to the ball; metres; origin on the
//! ground midway between the ankles at address. Index 0 is the lead side, 1 the trail side. A
//! left-hander is posed as a right-hander and mirrored when filmed.

use glam::{DMat3, DVec3};

/// Joint centres and part frames. The columns of a part's frame are its own axes: toward the lead
/// side, up and forward.
#[derive(Clone, Debug)]
pub struct Pose {
    /// Mid-point of the hip joint centres.
    pub pelvis: DVec3,
    /// Frame of the pelvis.
    pub pelvis_frame: DMat3,
    /// Lumbar joint.
    pub lumbar: DVec3,
    /// Thoracic joint.
    pub waist: DVec3,
    /// Frame of the waist.
    pub waist_frame: DMat3,
    /// Base of the neck.
    pub neck: DVec3,
    /// Frame of the chest.
    pub chest_frame: DMat3,
    /// Middle of the head.
    pub head: DVec3,
    /// Frame of the head.
    pub head_frame: DMat3,
    /// Shoulder joint centres.
    pub shoulder: [DVec3; 2],
    /// Elbows.
    pub elbow: [DVec3; 2],
    /// Wrist centres.
    pub wrist: [DVec3; 2],
    /// Where each hand's middle holds the axis of the grip.
    pub grip: [DVec3; 2],
    /// Hip joint centres.
    pub hip: [DVec3; 2],
    /// Knees.
    pub knee: [DVec3; 2],
    /// Ankles.
    pub ankle: [DVec3; 2],
    /// Frames of the feet.
    pub foot_frame: [DMat3; 2],
    /// How the hands are turned.
    pub hold: [Hold; 2],
    /// The club.
    pub club: ClubPose,
}

/// How a closed hand is turned: what it holds, or would hold, and where its back looks.
#[derive(Clone, Copy, Debug)]
pub struct Hold {
    /// Unit vector along what is held, from the little finger to the thumb: down a club's shaft.
    pub along: DVec3,
    /// Unit vector that the back of the hand looks along.
    pub back: DVec3,
}

impl Hold {
    /// Both hands on a club.
    pub fn of_club(club: &ClubPose) -> [Hold; 2] {
        [1.0, -1.0].map(|side| Hold {
            along: club.shaft,
            back: club.face * side,
        })
    }
}

/// The club at one instant.
#[derive(Clone, Copy, Debug)]
pub struct ClubPose {
    /// Upper end of the grip.
    pub butt: DVec3,
    /// Lower end of the shaft.
    pub hosel: DVec3,
    /// Unit vector from butt to hosel.
    pub shaft: DVec3,
    /// Unit vector the face looks along, square to the shaft.
    pub face: DVec3,
    /// Unit vector from heel to toe.
    pub toe: DVec3,
    /// Middle of the head.
    pub head: DVec3,
    /// Middle of the face's surface.
    pub sweet_spot: DVec3,
}

impl Pose {
    /// Moves the whole figure and the club, m.
    pub fn move_by(&mut self, way: DVec3) {
        let singles = [
            &mut self.pelvis,
            &mut self.lumbar,
            &mut self.waist,
            &mut self.neck,
            &mut self.head,
            &mut self.club.butt,
            &mut self.club.hosel,
            &mut self.club.head,
            &mut self.club.sweet_spot,
        ];
        singles.into_iter().for_each(|point| *point += way);
        let pairs = [
            &mut self.shoulder,
            &mut self.elbow,
            &mut self.wrist,
            &mut self.grip,
            &mut self.hip,
            &mut self.knee,
            &mut self.ankle,
        ];
        pairs.into_iter().flatten().for_each(|point| *point += way);
    }

    /// Mid-point of the wrists.
    pub fn hands(&self) -> DVec3 {
        0.5 * (self.wrist[0] + self.wrist[1])
    }

    /// Flexion of a knee, radians; 0 is straight.
    pub fn knee_flexion(&self, side: usize) -> f64 {
        (self.knee[side] - self.hip[side]).angle_between(self.ankle[side] - self.knee[side])
    }

    /// Flexion of an elbow, radians; 0 is straight.
    pub fn elbow_flexion(&self, side: usize) -> f64 {
        (self.elbow[side] - self.shoulder[side]).angle_between(self.wrist[side] - self.elbow[side])
    }
}

/// The middle joint of a two-bone limb from `root` to `tip`, bent toward `pole`. A tip out of reach
/// is treated as if on the edge of reach.
pub fn middle_joint(root: DVec3, tip: DVec3, first: f64, second: f64, pole: DVec3) -> DVec3 {
    let span = tip - root;
    let reach = span
        .length()
        .clamp((first - second).abs() + 1e-4, first + second - 1e-6);
    let along = span.normalize();
    // law of cosines: foot of the middle joint on the line, then its height above it
    let foot = (first * first - second * second + reach * reach) / (2.0 * reach);
    let height = (first * first - foot * foot).max(0.0).sqrt();
    let out = (pole - along * pole.dot(along)).normalize_or_zero();
    root + along * foot + out * height
}

/// The frame with an exact up axis, looking as nearly along `forward` as that allows.
pub fn frame_up(up: DVec3, forward: DVec3) -> DMat3 {
    let y = up.normalize();
    let x = y.cross(forward).normalize();
    DMat3::from_cols(x, y, x.cross(y))
}

/// The smallest rotation that takes straight up to a direction.
pub fn lean(direction: DVec3) -> DMat3 {
    DMat3::from_quat(glam::DQuat::from_rotation_arc(
        DVec3::Y,
        direction.normalize(),
    ))
}
