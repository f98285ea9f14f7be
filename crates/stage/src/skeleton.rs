//! Bone lengths of one player.
//!
//! Segment lengths over stature are those of Drillis and Contini (1966) as printed in D. A. Winter,
//! *Biomechanics and Motor Control of Human Movement*: thigh 0.245, shank 0.246, upper arm 0.186,
//! forearm 0.146. The rest (spine joints, collar bones, hip joints, feet) was set by eye on a figure
//! 1.78 m tall and scales with stature.

use crate::params::BodyParams;
use glam::DVec3;

/// Stature of the figure whose shapes were set by eye, m.
pub const REFERENCE_STATURE_M: f64 = 1.78;

/// Bone lengths, m, and fixed offsets.
#[derive(Clone, Debug)]
pub struct Skeleton {
    /// Stature over [`REFERENCE_STATURE_M`].
    pub scale: f64,
    /// Hip joint to knee.
    pub thigh: f64,
    /// Knee to ankle.
    pub shank: f64,
    /// Shoulder joint to elbow.
    pub upper_arm: f64,
    /// Elbow to wrist.
    pub forearm: f64,
    /// Wrist centre to the axis of the grip.
    pub hand: f64,
    /// Ankle joint above the ground.
    pub ankle_height: f64,
    /// Ankle joint to the ball of the foot, along the ground.
    pub ankle_to_ball: f64,
    /// Half the distance of the hip joints.
    pub hip_half: f64,
    /// Mid-hips to the lumbar joint.
    pub pelvis: f64,
    /// Lumbar joint to the thoracic joint.
    pub waist: f64,
    /// Thoracic joint to the base of the neck.
    pub thorax: f64,
    /// Base of the neck to the middle of the head.
    pub neck: f64,
    /// Base of the neck to the inner end of the lead collar bone, in the chest's axes.
    pub collar_inner: DVec3,
    /// Inner end of the lead collar bone to the shoulder joint at rest, in the chest's axes.
    pub collar: DVec3,
}

impl Skeleton {
    /// From the player's stature and proportions.
    pub fn of(body: &BodyParams) -> Skeleton {
        let stature = body.stature_m;
        let scale = stature / REFERENCE_STATURE_M;
        let part = &body.proportions;
        let leg = 0.491 * stature * body.leg_ratio;
        let thigh = 0.245 / 0.491 * leg * part.thigh_ratio;
        let arm = 0.332 * stature * body.arm_ratio;
        let upper_arm = 0.186 / 0.332 * arm * part.upper_arm_ratio;
        // What longer legs add is taken from the trunk, so that the stature stays.
        let trunk = 0.513 * scale - (leg - 0.491 * stature);
        let (pelvis, thorax) = (0.195 * part.pelvis_ratio, 0.493 * part.thorax_ratio);
        Skeleton {
            scale,
            thigh,
            shank: leg - thigh,
            upper_arm,
            forearm: arm - upper_arm,
            hand: 0.075 * scale,
            ankle_height: 0.092 * scale,
            ankle_to_ball: 0.13 * scale,
            hip_half: 0.088 * scale * body.hip_ratio,
            pelvis: trunk * pelvis,
            waist: trunk * (1.0 - pelvis - thorax),
            thorax: trunk * thorax,
            neck: 0.205 * scale * part.neck_ratio,
            collar_inner: DVec3::new(0.022, -0.022, 0.050) * scale,
            collar: DVec3::new(
                0.165 * body.shoulder_ratio,
                0.012 + 0.01 * part.shoulders_up_cm,
                -0.062,
            ) * scale,
        }
    }

    /// Distance from hip joint to ankle with the knee bent by an angle.
    pub fn leg_chord(&self, flexion_rad: f64) -> f64 {
        // law of cosines with the knee's inner angle π − flexion
        let (a, b) = (self.thigh, self.shank);
        (a * a + b * b + 2.0 * a * b * flexion_rad.cos()).sqrt()
    }
}
