//! From raw landmarks to a track that can be measured.
//!
//! In order: points too doubtful are left out; left and right that were exchanged are put back
//! (`swaps`); wrists that do not hold one grip (`wrists`)
//! and points that disagree with both neighbours in time or with limb lengths (`outliers`) are left
//! out; short gaps are bridged, long ones stay open; each stretch is filtered
//! without lag (`filter`). Raw and cleaned points are both kept.

mod filter;
mod outliers;
mod swaps;
mod wrists;

use crate::clock::Clock;
use crate::error::AnalysisError;
use crate::path::Path;
use lessonwright_math::{mad_sigma, median};
use lessonwright_model::body::LANDMARKS;
use lessonwright_model::{ClipFacts, Joint, LandmarkTrack, PixelPoint};

/// Fewest frames a swing can be read from: eight frames of downswing is what 30 frames/s give
/// (GolfDB, McNally et al. 2019: median downswing), twice that for the way back, and some rest.
pub const LEAST_FRAMES: usize = 24;
/// Shortest motion, s: tour players take 0.9–1.4 s from takeaway to impact (Grober & Cholewicki,
/// arXiv physics/0611291: 21:7 to 30:10 frames at 30/s).
pub const LEAST_SECONDS: f64 = 0.9;
/// Share of frames in which the golfer must be seen.
const LEAST_SEEN: f64 = 0.6;
/// Visibility below which the network says it does not see the point at all. Hidden wrists with
/// 38 cm error had 0.01, useful points 0.5 and more (renders; figures of the spike).
const LEAST_VISIBILITY: f64 = 0.05;

/// How a cleaned point came about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// Seen in this frame.
    Seen,
    /// Left out or not seen; bridged from both neighbours in time.
    Bridged,
    /// Placed by hand.
    ByHand,
}

/// One cleaned point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrackPoint {
    /// Where, px of the upright frame.
    pub at: PixelPoint,
    /// Standard deviation of one coordinate from frame-to-frame noise, px. Slow bias of the
    /// network is not in it: see [`crate::calibration`].
    pub sigma_px: f64,
    /// Standard deviation that the source of the point states, slow error included, px.
    pub spread_px: Option<f64>,
    /// Seen or bridged.
    pub origin: Origin,
}

/// The cleaned landmarks of one clip.
#[derive(Clone, Debug, PartialEq)]
pub struct CleanTrack {
    /// Frame numbers in the clip.
    pub frames: Vec<usize>,
    /// Their times from the clip's first frame, s of the file's own clock.
    pub times_s: Vec<f64>,
    /// Raw points with left and right put back, by joint and then frame; `None` where nobody was
    /// seen.
    pub raw: Vec<Vec<Option<PixelPoint>>>,
    /// Cleaned points, by joint and then frame; `None` in a gap too long to bridge.
    pub points: Vec<Vec<Option<TrackPoint>>>,
    /// Points whose left and right were exchanged.
    pub swapped: usize,
    /// Points left out as outliers.
    pub rejected: usize,
    /// Height of the body in the picture: median of nose to mid-ankle, px.
    pub span_px: f64,
}

impl CleanTrack {
    /// The cleaned point of `joint` at the `index`-th frame of the track.
    pub fn at(&self, joint: Joint, index: usize) -> Option<TrackPoint> {
        self.points
            .get(joint as usize)?
            .get(index)
            .copied()
            .flatten()
    }
}

/// What the points of a track are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Points {
    /// As the body network gives them; left and right are exchanged now and then.
    Landmarks,
    /// Moved to joint centres by a network that has seen exchanges and undoes them. Looking for more
    /// took arms that cross for an exchange: the trail elbow of 50 tuning swings was off by 6.2 cm
    /// (1 sd, worst 39) instead of 2.9.
    JointCentres,
}

/// Cleans the points of one clip; also returns each joint's path over real time.
///
/// # Errors
/// When the track is too short, disordered, mostly empty, or the body is not upright.
pub fn clean(
    facts: &ClipFacts,
    track: &LandmarkTrack,
    given: Points,
) -> Result<(CleanTrack, Vec<Path>), AnalysisError> {
    let clock = Clock::of(facts);
    let times: Vec<f64> = track.frames.iter().map(|f| clock.real(f.time_s)).collect();
    check_times(facts, track, &times)?;
    let mut raw = doubtless_points(track);
    let span_px = upright_span(facts, track, &raw)?;
    let swapped = match given {
        Points::Landmarks => swaps::put_back(&times, &mut raw, span_px),
        Points::JointCentres => 0,
    };
    let rate_hz = sampling_rate(&times);
    let mut kept = raw.clone();
    let apart = wrists::reject_apart(track, &mut kept, span_px);
    let (kept, rejected) = outliers::reject(&times, &kept, span_px);
    let wrists = wrists::stand_in(
        &times,
        &kept[Joint::LeftWrist as usize],
        &kept[Joint::RightWrist as usize],
    );
    let mut points = Vec::with_capacity(LANDMARKS);
    let mut paths = Vec::with_capacity(LANDMARKS);
    for (joint, kept) in kept.iter().enumerate() {
        let used = match joint {
            j if j == Joint::LeftWrist as usize => &wrists.0,
            j if j == Joint::RightWrist as usize => &wrists.1,
            _ => kept,
        };
        let (mut cleaned, path) = filter::filter_joint(joint, &times, rate_hz, kept, used, span_px);
        state_spreads(track, joint, &mut cleaned);
        points.push(cleaned);
        paths.push(path);
    }
    let cleaned = CleanTrack {
        frames: track.frames.iter().map(|f| f.frame).collect(),
        times_s: track.frames.iter().map(|f| f.time_s).collect(),
        raw,
        points,
        swapped,
        rejected: rejected + apart,
        span_px,
    };
    Ok((cleaned, paths))
}

/// What the track states of each point's own error.
fn state_spreads(track: &LandmarkTrack, joint: usize, cleaned: &mut [Option<TrackPoint>]) {
    for (frame, point) in track.frames.iter().zip(cleaned) {
        let stated = frame
            .body
            .as_ref()
            .and_then(|b| b.points.get(joint)?.spread);
        if let Some(point) = point {
            point.spread_px = stated.map(|spread| spread.at_px);
        }
    }
}

/// Frames a second of real motion: one over the median spacing.
pub fn sampling_rate(times_s: &[f64]) -> f64 {
    let spacings: Vec<f64> = times_s.windows(2).map(|w| w[1] - w[0]).collect();
    1.0 / median(&spacings).unwrap_or(f64::INFINITY)
}

fn check_times(
    facts: &ClipFacts,
    track: &LandmarkTrack,
    times: &[f64],
) -> Result<(), AnalysisError> {
    let seconds = match (times.first(), times.last()) {
        (Some(first), Some(last)) => last - first,
        _ => 0.0,
    };
    if let Some(i) = (1..times.len()).find(|&i| times[i].is_nan() || times[i] <= times[i - 1]) {
        return Err(AnalysisError::DisorderedTimes {
            clip: facts.name.clone(),
            frame: track.frames[i].frame,
        });
    }
    if times.len() < LEAST_FRAMES || seconds < LEAST_SECONDS {
        return Err(AnalysisError::TooFewFrames {
            clip: facts.name.clone(),
            frames: times.len(),
            seconds,
            needed_frames: LEAST_FRAMES,
            needed_s: LEAST_SECONDS,
        });
    }
    Ok(())
}

/// By joint and then frame; points the network does not see, or that are not numbers, left out.
fn doubtless_points(track: &LandmarkTrack) -> Vec<Vec<Option<PixelPoint>>> {
    (0..LANDMARKS)
        .map(|joint| {
            track
                .frames
                .iter()
                .map(|frame| {
                    let point = frame.body.as_ref()?.points.get(joint)?;
                    let numbers = point.at.x.is_finite() && point.at.y.is_finite();
                    (numbers && point.visibility >= LEAST_VISIBILITY).then_some(point.at)
                })
                .collect()
        })
        .collect()
}

/// Nose to mid-ankle, px, if the golfer is seen and stands upright.
fn upright_span(
    facts: &ClipFacts,
    track: &LandmarkTrack,
    raw: &[Vec<Option<PixelPoint>>],
) -> Result<f64, AnalysisError> {
    let frames = track.frames.len();
    let bodies = |i: usize| {
        let nose = raw[Joint::Nose as usize][i]?;
        let ankle = match (
            raw[Joint::LeftAnkle as usize][i],
            raw[Joint::RightAnkle as usize][i],
        ) {
            (Some(l), Some(r)) => l.midpoint(r),
            (one, other) => one.or(other)?,
        };
        Some((ankle.x - nose.x, ankle.y - nose.y))
    };
    let seen: Vec<(f64, f64)> = (0..frames).filter_map(bodies).collect();
    if (seen.len() as f64) < LEAST_SEEN * frames as f64 {
        return Err(AnalysisError::NobodySeen {
            clip: facts.name.clone(),
            seen: seen.len(),
            frames,
        });
    }
    let across = median(&seen.iter().map(|s| s.0).collect::<Vec<_>>()).unwrap_or(0.0);
    let down = median(&seen.iter().map(|s| s.1).collect::<Vec<_>>()).unwrap_or(0.0);
    let clip = facts.name.clone();
    if across.abs() > down.abs() {
        return Err(AnalysisError::OnTheSide { clip });
    }
    if down <= 0.0 {
        return Err(AnalysisError::UpsideDown { clip });
    }
    Ok(down)
}

/// Noise of one coordinate, px: robust spread of what the filter took away.
fn noise_sigma(raw: &[PixelPoint], smooth: &[PixelPoint]) -> f64 {
    let xs: Vec<f64> = raw.iter().zip(smooth).map(|(r, s)| r.x - s.x).collect();
    let ys: Vec<f64> = raw.iter().zip(smooth).map(|(r, s)| r.y - s.y).collect();
    let (x, y) = (mad_sigma(&xs).unwrap_or(0.0), mad_sigma(&ys).unwrap_or(0.0));
    (0.5 * (x * x + y * y)).sqrt()
}
