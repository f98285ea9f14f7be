//! The fit of one moving body to the tracks of one or two views.
//!
//! Gauss–Newton with Levenberg's damping on [`crate::residuals`]; robust losses by iteratively
//! reweighted least squares, wide at first so that a start from one picture's usual depth is not
//! locked out (feasibility note: started at 8 standard deviations, 13 cm was rejected as an outlier).

use crate::camera::Camera;
use crate::input::{FitError, Options, ViewTrack};
use crate::lengths::{LENGTHS, Length};
use crate::motion::Motion;
use crate::points::{POINTS, Point};
use crate::residuals::{self, Loss, Problem, Sink, USUAL_RATE_HZ};
use crate::solve::{Factor, Normal};
use crate::state::{HALF_BAND, State};
use crate::{start, track};
use glam::DVec3;

/// Fewest frames of a clip: a swing is longer; accelerations need three, cubic places between
/// frames four.
const LEAST_FRAMES: usize = 8;
/// Least time the views must share, s: from lead arm level to just after the strike.
const LEAST_SHARED_S: f64 = 0.3;
/// Width of the image points' loss in standard deviations, and how many steps at most.
const STAGES: [(f64, usize); 3] = [(20.0, 8), (8.0, 6), (4.0, 8)];
const FIRST_DAMPING: f64 = 1e-3;
const EASED: f64 = 0.2;
const STIFFENED: f64 = 8.0;
/// Damping at which no step helps any more.
const STUCK: f64 = 1e6;
/// A stage ends when a step gains less than this share of the cost.
const SETTLED: f64 = 1e-5;

/// A fitted body.
#[derive(Clone, Debug)]
pub struct Fit {
    /// The moving body, on the first clip's clock at about 60 instants a second.
    pub motion: Motion,
    /// Lengths, m, in the order of [`Length`].
    pub lengths_m: [f64; LENGTHS],
    /// One a view, in the order given.
    pub cameras: Vec<Camera>,
    /// The second clip's time of an instant less the first's, s.
    pub clock_difference_s: f64,
    /// What was added to the difference of the impact times to get there, s.
    pub time_offset_s: f64,
    /// By view and point: root mean square distance of the projected from the seen points, px;
    /// `None` where the point was never seen.
    pub rms_px: Vec<[Option<f64>; POINTS]>,
    /// Damped steps taken, refused ones included.
    pub iterations: usize,
    state: State,
    factor: Factor,
}

/// One term of a linear functional of a pose: a point and its coefficients, 1/m.
pub type Term = (Point, DVec3);

impl Fit {
    /// Length of a part of the body, m.
    pub fn length_m(&self, length: Length) -> f64 {
        self.lengths_m[length as usize]
    }

    /// Formal variance of `Σ coefficient·position` over one or more instants (index into
    /// [`Motion::times_s`]); in the functional's unit squared.
    ///
    /// **Far too small to be shown**: it takes the image points' errors as independent from frame to
    /// frame, which they are not (feasibility note: the sd is about 8 times too small). It ranks
    /// what is well and ill determined; a ± comes from calibration.
    ///
    /// # Panics
    /// When an instant is past the last.
    pub fn formal_variance(&self, terms: &[(usize, Term)]) -> f64 {
        let mut v = vec![0.0; self.state.banded() + self.state.shared()];
        for (frame, (point, coefficients)) in terms {
            assert!(*frame < self.motion.poses.len(), "no instant {frame}");
            let at = self.state.position(*frame, *point as usize);
            for i in 0..3 {
                v[at + i] += coefficients[i];
            }
        }
        self.factor.quadratic(&v)
    }
}

/// Fits one moving body to one or two views of a swing.
///
/// # Errors
/// See [`FitError`]: what is missing or contradicts itself, and what to do.
pub fn fit(views: &[ViewTrack], options: &Options) -> Result<Fit, FitError> {
    let stature_m = check(views, options)?;
    let cameras = views
        .iter()
        .enumerate()
        .map(|(i, view)| start::camera(view, stature_m, i + 1))
        .collect::<Result<Vec<_>, _>>()?;
    let times_s = instants(&views[0].times_s);
    let mut problem = Problem {
        views,
        options,
        stature_m,
        address: still(&times_s, &views[0]),
        times_s,
        aligned_s: views
            .iter()
            .map(|v| v.impact_s - views[0].impact_s)
            .collect(),
        focal_px: cameras.iter().map(|c| c.focal_px).collect(),
        image_loss: Loss::Square,
    };
    let mut state = start::state(&problem, cameras);
    let mut iterations = 0;
    for (width, steps) in STAGES {
        problem.image_loss = Loss::Robust(width);
        iterations += descend(&problem, &mut state, steps)?;
    }
    let factor = normal(&problem, &state)
        .factor(0.0)
        .ok_or(FitError::BrokeDown)?;
    Ok(Fit {
        rms_px: rms(&problem, &state),
        motion: Motion {
            times_s: problem.times_s,
            poses: state.poses.clone(),
        },
        lengths_m: state.log_lengths.map(f64::exp),
        cameras: state.cameras.clone(),
        clock_difference_s: problem.aligned_s.last().map_or(0.0, |a| a + state.offset_s),
        time_offset_s: state.offset_s,
        iterations,
        state,
        factor,
    })
}

fn check(views: &[ViewTrack], options: &Options) -> Result<f64, FitError> {
    if !(1..=2).contains(&views.len()) {
        return Err(FitError::Views(views.len()));
    }
    for (i, v) in views.iter().enumerate() {
        let bad = |what| Err(FitError::BadView { view: i + 1, what });
        if v.frames.len() < LEAST_FRAMES {
            return Err(FitError::TooFewFrames {
                view: i + 1,
                frames: v.frames.len(),
                least: LEAST_FRAMES,
            });
        }
        if v.times_s.len() != v.frames.len() {
            return bad("it has not one time for each frame");
        }
        if !v.times_s.iter().all(|t| t.is_finite()) || !v.times_s.is_sorted_by(|a, b| a < b) {
            return bad("its times do not rise");
        }
        if !v.size_px.iter().all(|s| s.is_finite() && *s > 0.0) {
            return bad("its picture has no size");
        }
        if !(v.address_s <= v.takeaway_s && v.takeaway_s < v.impact_s) {
            return bad("address, takeaway and impact are not in this order");
        }
        let known = |n: Option<f64>| n.is_none_or(|n| n.is_finite() && n > 0.0);
        let bearing = v.bearing_rad.is_finite() && known(Some(v.bearing_sd_rad));
        if !known(v.distance_m) || !known(v.focal_px) || !bearing {
            return bad("a number of its camera is not usable");
        }
        let sound = |s: &crate::Seen| {
            s.pixel.is_finite()
                && s.sd_px.is_finite()
                && s.sd_px > 0.0
                && s.depth
                    .is_none_or(|d| d.depth_m.is_finite() && d.sd_m.is_finite() && d.sd_m > 0.0)
        };
        if !v.frames.iter().flatten().flatten().all(sound) {
            return bad("a point is not a number or its deviation is not above zero");
        }
    }
    if let [a, b] = views {
        if a.view == b.view {
            return Err(FitError::SameView);
        }
        let span = |v: &ViewTrack| {
            let last = v.times_s[v.times_s.len() - 1];
            (v.times_s[0] - v.impact_s, last - v.impact_s)
        };
        let (a, b) = (span(a), span(b));
        let shared_s = a.1.min(b.1) - a.0.max(b.0);
        if shared_s < LEAST_SHARED_S {
            return Err(FitError::NoOverlap {
                shared_s: shared_s.max(0.0),
            });
        }
    }
    options
        .stature_m
        .filter(|s| (0.8..=2.5).contains(s))
        .ok_or(FitError::NoStature)
}

/// Evenly spaced times near 60 a second that fall on the clip's frames where its rate allows.
fn instants(times_s: &[f64]) -> Vec<f64> {
    let (first, last) = (times_s[0], times_s[times_s.len() - 1]);
    let mut gaps: Vec<f64> = times_s.windows(2).map(|w| w[1] - w[0]).collect();
    gaps.sort_by(f64::total_cmp);
    let gap = gaps[gaps.len() / 2];
    let per = 1.0 / (gap * USUAL_RATE_HZ);
    let step = if per >= 1.0 {
        gap * per.round()
    } else {
        gap / (1.0 / per).round()
    };
    // a little over the end belongs to rounding
    let count = ((last - first) / step + 1e-6) as usize + 1;
    (0..count.max(3)).map(|i| first + i as f64 * step).collect()
}

/// The instants from address to takeaway; at least the one nearest to takeaway.
fn still(times_s: &[f64], view: &ViewTrack) -> std::ops::Range<usize> {
    let first = times_s.partition_point(|t| *t < view.address_s - 1e-6);
    let end = times_s.partition_point(|t| *t <= view.takeaway_s + 1e-6);
    let end = end.clamp(1, times_s.len());
    first.min(end - 1)..end
}

/// Steps downhill until it settles; says how many steps it tried.
fn descend(problem: &Problem<'_>, state: &mut State, steps: usize) -> Result<usize, FitError> {
    let mut damping = FIRST_DAMPING;
    let mut now = cost(problem, state);
    let mut tried = 0;
    let mut taken = 0;
    while taken < steps && damping < STUCK {
        let equations = normal(problem, state);
        let mut gained = None;
        while gained.is_none() && damping < STUCK {
            tried += 1;
            let next = equations
                .factor(damping)
                .map(|f| state.moved(&f.solve(&equations.right)));
            let value = next.as_ref().map_or(f64::INFINITY, |s| cost(problem, s));
            match next {
                Some(next) if value < now => {
                    gained = Some((now - value) / now);
                    (*state, now) = (next, value);
                    damping *= EASED;
                }
                _ => damping *= STIFFENED,
            }
        }
        taken += 1;
        if gained.is_none_or(|share| share < SETTLED) {
            break;
        }
    }
    if now.is_finite() {
        Ok(tried)
    } else {
        Err(FitError::BrokeDown)
    }
}

struct Cost(f64);

impl Sink for Cost {
    fn take(&mut self, residual: f64, loss: Loss, _: &[(usize, f64)]) {
        self.0 += loss.cost_and_weight(residual).0;
    }
}

fn cost(problem: &Problem<'_>, state: &State) -> f64 {
    let mut sum = Cost(0.0);
    residuals::all(problem, state, &mut sum);
    sum.0
}

impl Sink for Normal {
    fn take(&mut self, residual: f64, loss: Loss, jacobian: &[(usize, f64)]) {
        self.add(loss.cost_and_weight(residual).1, residual, jacobian);
    }
}

fn normal(problem: &Problem<'_>, state: &State) -> Normal {
    let mut sum = Normal::zero(state.banded(), HALF_BAND, state.shared());
    residuals::all(problem, state, &mut sum);
    sum
}

fn rms(problem: &Problem<'_>, state: &State) -> Vec<[Option<f64>; POINTS]> {
    let of = |view: usize, point: usize| {
        let shift_s = problem.aligned_s[view] + if view == 0 { 0.0 } else { state.offset_s };
        let squares: Vec<f64> = problem
            .times_s
            .iter()
            .zip(&state.poses)
            .filter_map(|(t, pose)| {
                let there = track::at(&problem.views[view], point, t + shift_s)?;
                let here = state.cameras[view].project(pose.0[point]);
                Some(here.distance_squared(there.seen.pixel))
            })
            .collect();
        (!squares.is_empty()).then(|| (squares.iter().sum::<f64>() / squares.len() as f64).sqrt())
    };
    (0..problem.views.len())
        .map(|view| std::array::from_fn(|point| of(view, point)))
        .collect()
}
