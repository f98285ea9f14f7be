//! Everything that is believed of a swing, as residuals over their standard deviations.
//!
//! The figures are those of the feasibility note (three rendered swings) unless said otherwise.
//! Deviations of image points are in pixels and never change with the fitted distance: were they
//! metres at the current one, a smaller and nearer body would be cheaper, and the body shrank by
//! 15–20 %.

use crate::camera::{CAMERA_NUMBERS, View};
use crate::input::Options;
use crate::input::ViewTrack;
use crate::lengths::{BELIEFS, LENGTHS, SEGMENTS};
use crate::points::{POINTS, Point};
use crate::state::State;
use crate::track;
use glam::DVec3;

/// How far single residuals may stand out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Loss {
    /// Every deviation counts by its square.
    Square,
    /// Geman–McClure with its width in standard deviations: far ones count ever less.
    Robust(f64),
}

impl Loss {
    /// Twice the cost of a residual, and its weight in the normal equations.
    pub(crate) fn cost_and_weight(self, residual: f64) -> (f64, f64) {
        let square = residual * residual;
        match self {
            Loss::Square => (square, 1.0),
            Loss::Robust(c) => {
                // ρ = c²r²/(c²+r²), w = (c²/(c²+r²))² (Geman & McClure 1985)
                let share = c * c / (c * c + square);
                (square * share, share * share)
            }
        }
    }
}

/// What stays the same through the iterations.
pub(crate) struct Problem<'a> {
    pub(crate) views: &'a [ViewTrack],
    pub(crate) options: &'a Options,
    pub(crate) stature_m: f64,
    /// Instants of the fit, s of the first clip.
    pub(crate) times_s: Vec<f64>,
    /// For each view, its clip's time less the first clip's when impacts are aligned, s.
    pub(crate) aligned_s: Vec<f64>,
    /// Frames of stillness at address.
    pub(crate) address: std::ops::Range<usize>,
    /// Focal lengths at the start, px.
    pub(crate) focal_px: Vec<f64>,
    /// Width of the image points' loss in this stage.
    pub(crate) image_loss: Loss,
}

/// Receives each residual with its loss and its derivatives by the unknowns.
pub(crate) trait Sink {
    fn take(&mut self, residual: f64, loss: Loss, jacobian: &[(usize, f64)]);
}

/// Correlated errors of image points make their count too strong by about 25: what is believed of
/// the shared unknowns once a clip is made as much narrower (feasibility note, residual 7).
const ONCE: f64 = 0.2;
const ROLL_SD: f64 = 0.026 * ONCE; // 1.5°
/// Log of the focal length when only a usual distance is known (3–6 m: ±25 %), not made narrower:
/// it is a real ignorance, and exact points tell it well.
const FOCAL_SD: f64 = 0.25;
/// Log of the focal length when it or the distance is told.
const FOCAL_TOLD_SD: f64 = 0.02;
const SCALE_SD: f64 = 0.002;
const ORIGIN_SD_M: f64 = 0.002;
/// An impact seen at 60/s is known to about a frame.
const OFFSET_SD_S: f64 = 0.02;
const OFFSET_FIXED_SD_S: f64 = 1e-6;
const HIPS_SQUARE_SD_M: f64 = 0.012;
const KNEES_SQUARE_SD_M: f64 = 0.02;
/// At address the knees' line is this much as open as the ankles' (feasibility note, residual 6).
const KNEES_FOLLOW_ANKLES: f64 = 0.7;
const FEET_STILL_SD_M: f64 = 0.0015;
const TOE_HEIGHT_M: f64 = 0.035;
const TOE_SD_M: [f64; 2] = [0.008, 0.012];
const ACCELERATION_LOSS: Loss = Loss::Robust(3.0);
/// A foot that steps costs little more than one that creeps.
const FEET_LOSS: Loss = Loss::Robust(1.0);
/// Depth from one picture is wrong by whole limbs at times.
const DEPTH_LOSS: Loss = Loss::Robust(3.0);

/// Usual change of velocity of each point, m a frame a frame at 60/s, in the order of [`Point`].
const ACCELERATION_SD_M: [f64; POINTS] = [
    0.003, 0.003, 0.006, 0.006, 0.015, 0.025, 0.022, 0.022, 0.003, 0.005, 0.003, 0.003, 0.0015,
    0.003, 0.0015, 0.0015, 0.005,
];
/// The note's accelerations are this much too tight: they flattened the top, where the pelvis
/// reverses (8 random stage swings, exact points: worst shift error 1.4 cm at 1, 0.5 at 3, 0.25 at 6;
/// under 1 cm of slow noise the errors stayed alike).
const LOOSER: f64 = 6.0;
/// The rate those are for, Hz.
pub(crate) const USUAL_RATE_HZ: f64 = 60.0;

/// Sends every residual of a state to a sink, always in one order.
pub(crate) fn all(problem: &Problem<'_>, state: &State, sink: &mut impl Sink) {
    for view in 0..problem.views.len() {
        image_points(problem, state, view, sink);
    }
    for frame in 0..state.poses.len() {
        lengths(state, frame, sink);
    }
    motion(problem, state, sink);
    feet(state, sink);
    address(problem, state, sink);
    shared(problem, state, sink);
}

fn image_points(problem: &Problem<'_>, state: &State, view: usize, sink: &mut impl Sink) {
    let camera = &state.cameras[view];
    let shift_s = problem.aligned_s[view] + if view == 0 { 0.0 } else { state.offset_s };
    for (frame, time_s) in problem.times_s.iter().enumerate() {
        for point in 0..POINTS {
            let Some(there) = track::at(&problem.views[view], point, time_s + shift_s) else {
                continue;
            };
            let p = camera.project_with_derivatives(state.poses[frame].0[point]);
            let (at, c) = (state.position(frame, point), state.camera(view));
            for axis in 0..2 {
                let scale = 1.0 / there.seen.sd_px;
                let mut jacobian = [(0, 0.0); 4 + CAMERA_NUMBERS];
                let (by_point, by_rest) = jacobian.split_at_mut(3);
                for (i, (term, by)) in by_point.iter_mut().zip(&p.by_point).enumerate() {
                    *term = (at + i, by[axis] * scale);
                }
                for (i, (term, by)) in by_rest.iter_mut().zip(&p.by_camera).enumerate() {
                    *term = (c + i, by[axis] * scale);
                }
                let mut used = 3 + CAMERA_NUMBERS;
                if view > 0 {
                    jacobian[used] = (state.offset(), -there.velocity_px_s[axis] * scale);
                    used += 1;
                }
                let residual = (p.pixel[axis] - there.seen.pixel[axis]) * scale;
                sink.take(residual, problem.image_loss, &jacobian[..used]);
            }
            let Some(depth) = there.seen.depth else {
                continue;
            };
            // depth from the mid-hip along the optical axis; the camera's small turns left out
            let forward = camera.rotation().row(2);
            let relative = forward.dot(state.poses[frame].0[point] - state.poses[frame].mid_hip());
            let mut jacobian = [(0, 0.0); 9];
            for i in 0..3 {
                let slope = forward[i] / depth.sd_m;
                jacobian[i] = (at + i, slope);
                for (side, hip) in [Point::LeadHip, Point::TrailHip].into_iter().enumerate() {
                    let column = state.position(frame, hip as usize) + i;
                    jacobian[3 + 3 * side + i] = (column, -0.5 * slope);
                }
            }
            if point > Point::TrailHip as usize {
                sink.take(
                    (relative - depth.depth_m) / depth.sd_m,
                    DEPTH_LOSS,
                    &jacobian,
                );
            }
        }
    }
}

fn lengths(state: &State, frame: usize, sink: &mut impl Sink) {
    let pose = &state.poses[frame];
    for (length, from, to) in SEGMENTS {
        let mean = |points: &[Point]| {
            points.iter().map(|p| pose.at(*p)).sum::<DVec3>() / points.len() as f64
        };
        let line = mean(to) - mean(from);
        let now = line.length().max(1e-6);
        let sd = BELIEFS[length as usize].frame_sd_m;
        let usual = state.log_lengths[length as usize].exp();
        let mut jacobian = [(0, 0.0); 13];
        let mut used = 0;
        for (points, sign) in [(from, -1.0), (to, 1.0)] {
            for point in points {
                for i in 0..3 {
                    jacobian[used] = (
                        state.position(frame, *point as usize) + i,
                        sign * line[i] / now / sd / points.len() as f64,
                    );
                    used += 1;
                }
            }
        }
        jacobian[used] = (state.length(length as usize), -usual / sd);
        sink.take((now - usual) / sd, Loss::Square, &jacobian[..=used]);
    }
}

fn motion(problem: &Problem<'_>, state: &State, sink: &mut impl Sink) {
    let step_s = problem.times_s[1] - problem.times_s[0];
    let slower = LOOSER * (step_s * USUAL_RATE_HZ).powi(2);
    for frame in 1..state.poses.len() - 1 {
        for (point, sd_m) in ACCELERATION_SD_M.iter().enumerate() {
            let scale = 1.0 / (sd_m * slower);
            let [before, now, after] = [frame - 1, frame, frame + 1];
            let change = state.poses[before].0[point] - 2.0 * state.poses[now].0[point]
                + state.poses[after].0[point];
            for i in 0..3 {
                let jacobian = [
                    (state.position(before, point) + i, scale),
                    (state.position(now, point) + i, -2.0 * scale),
                    (state.position(after, point) + i, scale),
                ];
                sink.take(change[i] * scale, ACCELERATION_LOSS, &jacobian);
            }
        }
    }
}

fn feet(state: &State, sink: &mut impl Sink) {
    use Point::{LeadHeel, LeadToe, TrailHeel, TrailToe};
    for frame in 0..state.poses.len() {
        for (side, toe) in [LeadToe, TrailToe].into_iter().enumerate() {
            let sd = TOE_SD_M[side];
            let at = state.position(frame, toe as usize) + 1;
            let height = state.poses[frame].at(toe).y;
            sink.take(
                (height - TOE_HEIGHT_M) / sd,
                Loss::Robust(3.0),
                &[(at, 1.0 / sd)],
            );
        }
        if frame == 0 {
            continue;
        }
        for point in [LeadToe, TrailToe, LeadHeel, TrailHeel] {
            let step = state.poses[frame].at(point) - state.poses[frame - 1].at(point);
            for i in 0..3 {
                let jacobian = [
                    (
                        state.position(frame, point as usize) + i,
                        1.0 / FEET_STILL_SD_M,
                    ),
                    (
                        state.position(frame - 1, point as usize) + i,
                        -1.0 / FEET_STILL_SD_M,
                    ),
                ];
                sink.take(step[i] / FEET_STILL_SD_M, FEET_LOSS, &jacobian);
            }
        }
    }
}

fn address(problem: &Problem<'_>, state: &State, sink: &mut impl Sink) {
    use Point::{LeadAnkle, LeadHip, LeadKnee, TrailAnkle, TrailHip, TrailKnee};
    let frames = problem.address.len() as f64;
    for frame in problem.address.clone() {
        let z = |p: Point| state.poses[frame].at(p).z;
        let column = |p: Point| state.position(frame, p as usize) + 2;
        if problem.options.square_at_address {
            let scale = 1.0 / HIPS_SQUARE_SD_M;
            let jacobian = [(column(LeadHip), scale), (column(TrailHip), -scale)];
            sink.take((z(LeadHip) - z(TrailHip)) * scale, Loss::Square, &jacobian);
            let (scale, share) = (1.0 / KNEES_SQUARE_SD_M, KNEES_FOLLOW_ANKLES);
            let line = z(LeadKnee) - z(TrailKnee) - share * (z(LeadAnkle) - z(TrailAnkle));
            let jacobian = [
                (column(LeadKnee), scale),
                (column(TrailKnee), -scale),
                (column(LeadAnkle), -share * scale),
                (column(TrailAnkle), share * scale),
            ];
            sink.take(line * scale, Loss::Square, &jacobian);
        }
        // the origin: mid-ankle at address, together as strong as one residual of its deviation
        let scale = 1.0 / (ORIGIN_SD_M * frames.sqrt());
        let middle = state.poses[frame].middle(LeadAnkle, TrailAnkle);
        for i in [0, 2] {
            let jacobian = [LeadAnkle, TrailAnkle]
                .map(|p| (state.position(frame, p as usize) + i, 0.5 * scale));
            sink.take(middle[i] * scale, Loss::Square, &jacobian);
        }
    }
}

/// What a camera is aimed at: the middle of player and ball, m from the origin (as far as the
/// usual ball, 0.7 m, by the shares usual in each view; by eye).
pub(crate) fn aim(view: View) -> DVec3 {
    match view {
        View::FaceOn => DVec3::new(0.0, 0.0, 0.1),
        View::DownTheLine => DVec3::new(0.0, 0.0, 0.27),
    }
}

fn shared(problem: &Problem<'_>, state: &State, sink: &mut impl Sink) {
    let mut scale = 0.0;
    let mut scale_jacobian = [(0, 0.0); LENGTHS];
    for (i, belief) in BELIEFS.iter().enumerate() {
        let excess = state.log_lengths[i] - (belief.share * problem.stature_m).ln();
        let sd = belief.log_sd * ONCE;
        sink.take(excess / sd, Loss::Square, &[(state.length(i), 1.0 / sd)]);
        scale += belief.in_scale * excess;
        scale_jacobian[i] = (state.length(i), belief.in_scale / SCALE_SD);
    }
    sink.take(scale / SCALE_SD, Loss::Square, &scale_jacobian);
    for (view, camera) in state.cameras.iter().enumerate() {
        let c = state.camera(view);
        sink.take(
            camera.roll_rad / ROLL_SD,
            Loss::Square,
            &[(c + 5, 1.0 / ROLL_SD)],
        );
        let given = &problem.views[view];
        let told = given.focal_px.is_some() || given.distance_m.is_some();
        let sd = if told { FOCAL_TOLD_SD } else { FOCAL_SD };
        let excess = (camera.focal_px / problem.focal_px[view]).ln();
        sink.take(excess / sd, Loss::Square, &[(c + 6, 1.0 / sd)]);
        let sd = given.bearing_sd_rad * ONCE;
        let d = camera.position - aim(camera.view);
        let square = d.x * d.x + d.z * d.z;
        let off = camera.view.bearing_rad(camera.position, aim(camera.view)) - given.bearing_rad;
        // atan2(x, z) and atan2(z, −x) have the same derivatives
        let jacobian = [(c, d.z / square / sd), (c + 2, -d.x / square / sd)];
        sink.take(off / sd, Loss::Square, &jacobian);
    }
    let sd = if problem.options.estimate_time_offset && state.cameras.len() > 1 {
        OFFSET_SD_S
    } else {
        OFFSET_FIXED_SD_S
    };
    sink.take(
        state.offset_s / sd,
        Loss::Square,
        &[(state.offset(), 1.0 / sd)],
    );
}
