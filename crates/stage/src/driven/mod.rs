//! Swings made in a second way: joints pushed by torques on the way down, where [`crate::motion`] steers by keys.
//!
//! They are kept out of everything that learns or is tuned, so they show how the measures fare on motion of another making.
//!
//! On the way down pelvis, trunk, arms and club are a chain in one leaning plane, driven one after the other by torques
//! that grow and then weaken with speed, after the planar models of Jorgensen (*The Physics of Golf*, 1994) and Sprigings
//! and Neal (*J. Appl. Biomech.* 16, 2000, 356–366); masses, torques and their times are from memory or by eye and drawn
//! wide. All else (the way back, sway, posture) is a sum of strokes of least jerk (Flash and Hogan, *J. Neurosci.* 5,
//! 1985, 1688–1703), each with its own beginning and length: nothing is tied to the moments that are measured. The lead
//! arm leads to the strike, the trail arm after it; elbows and knees follow by two bones.
//!
//! What comes out are joints as a capture has them, and [`Captured`] takes it from there. Axes
//! as in [`crate::pose`]; metres, seconds, radians.

mod chain;
mod course;
mod draw;
mod limbs;

use crate::captured::{Captured, Row};
use crate::motion::Movement;
use crate::noise::SplitMix64;
use crate::params::SwingParams;
use chain::{Chain, STEP_S};
use course::{Course, RunOut};
use draw::drawn;
use glam::DVec3;

/// Rows a second.
const RATE_HZ: f64 = 120.0;
/// Before the first movement and after the last.
const STILL_S: f64 = 0.3;

/// A swing drawn from the parameters' seed, as a capture of such joints would be. One that is no swing, or in which the trail
/// arm does not reach the grip, is drawn again.
pub fn swing(params: &SwingParams) -> (Captured, SwingParams) {
    const LEAST_BENT_RAD: f64 = 0.02;
    const LOOKS: u32 = 60;
    let mut r = SplitMix64::new(params.seed ^ 0x6472_6976_656e);
    loop {
        let Ok((captured, sized)) = Captured::of(rows(&mut r), RATE_HZ, params) else {
            continue;
        };
        let impact_s = captured.key_times().impact;
        let reaches = (0..LOOKS).all(|i| {
            let pose = captured.pose(impact_s * f64::from(i) / f64::from(LOOKS - 1));
            pose.elbow_flexion(1) > LEAST_BENT_RAD
        });
        if reaches {
            return (captured, sized);
        }
    }
}

/// The joints of one swing, a right-hander's. A draw that does not strike, or strikes as nobody does, is drawn again.
fn rows(r: &mut SplitMix64) -> Vec<Row> {
    loop {
        let Some(swing) = drawn(r) else { continue };
        let count = ((swing.end_s + 2.0 * STILL_S) * RATE_HZ) as usize;
        let rows: Vec<Row> = (0..count)
            .map(|i| swing.joints(i as f64 / RATE_HZ - STILL_S))
            .collect();
        if rows.iter().all(|row| swing.body.can_hold(row)) {
            return rows;
        }
    }
}

/// One swing; time from the first movement.
struct Swing {
    body: Body,
    /// Pelvis, chest and arms on the way back, until `top_s`.
    back: [Course; 3],
    top_s: f64,
    /// The chain on its way down, until `strike_s`.
    down: Vec<(Chain, Chain)>,
    strike_s: f64,
    /// Pelvis, chest and arms after it, until `end_s`.
    through: [RunOut; 3],
    end_s: f64,
    /// Mid-hips: toward the target, up, toward the ball.
    pelvis: [Course; 3],
    /// The trunk's lean toward the ball, and toward the target.
    lean: [Course; 2],
    /// Steepness of the arms' plane.
    slope: Course,
    /// How far hands are drawn across the chest, as a share of half the shoulders' distance.
    across: Course,
    /// The lead elbow's bend until the strike, the trail elbow's after it.
    elbow_bend: [Course; 2],
    /// How far the trail elbow points behind the chest, as a share of how far it points down.
    elbow_behind: Course,
    /// Shoulders forward and up as their arms cross and rise, m.
    girdle: [f64; 2],
    /// How far each knee points toward the target, as a share of how far it points ahead.
    knee_out: [f64; 2],
    /// How far the trail foot has rolled onto its toes.
    heel_up: Course,
}

/// Lengths of the player, m.
struct Body {
    stature: f64,
    thigh: f64,
    shank: f64,
    upper_arm: f64,
    forearm: f64,
    hip_half: f64,
    /// Mid-hips to the base of the neck.
    trunk: f64,
    /// From the base of the neck to the lead shoulder: across, up, forward.
    shoulder: DVec3,
    /// Half the distance of the ankles.
    stance_half: f64,
    /// Each foot's turn toward the target, rad.
    flare: [f64; 2],
}

impl Swing {
    /// Turns of pelvis and chest away from the target, the arms' angle from down.
    fn angles(&self, t: f64) -> [f64; 3] {
        if t < self.top_s {
            return [0, 1, 2].map(|i| self.back[i].at(t));
        }
        if t < self.strike_s {
            let place = (t - self.top_s) / STEP_S;
            let i = (place as usize).min(self.down.len() - 2);
            let (a, b) = (&self.down[i].0, &self.down[i + 1].0);
            return [0, 1, 2].map(|k| a[k] + (place - i as f64) * (b[k] - a[k]));
        }
        [0, 1, 2].map(|i| self.through[i].at(t - self.strike_s))
    }
}
