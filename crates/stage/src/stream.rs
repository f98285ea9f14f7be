//! Many swings as one stream of bytes: pictures with exact joints, for learning from.
//!
//! For each clip: the length of its [`Header`] as JSON (u32), the header, then for each of its times
//! the RGB picture, row by row, and the [`POINTS`] in the world (m, three f32 each). Little-endian.

use crate::film::Film;
use crate::motion::Movement;
use crate::noise::hash;
use crate::params::{SwingParams, View};
use crate::pose::Pose;
use crate::truth::{Truth, joints, truth};
use glam::DVec3;
use serde::Serialize;
use std::io::{self, Write};

/// What comes before a clip's pictures.
#[derive(Debug, Serialize)]
pub struct Header {
    /// The clip's truth without frames.
    pub truth: Truth,
    /// Time of each picture, s of the clip.
    pub times_s: Vec<f64>,
    /// Names of the points after each picture.
    pub points: Vec<String>,
}

/// Points of the body; each but the first also for the trail side, after the lead side.
pub const POINTS: [&str; 9] = [
    "nose", "shoulder", "elbow", "wrist", "hip", "knee", "ankle", "heel", "toe",
];

/// Pictures this far apart show all that slow parts of a swing hold, s.
const SLOW_STEP_S: f64 = 1.0 / 20.0;
/// In the downswing, s.
const FAST_STEP_S: f64 = 1.0 / 40.0;
/// The downswing's pictures begin before the top and end after impact, s.
const FAST_BEFORE_TOP_S: f64 = 0.05;
const FAST_AFTER_IMPACT_S: f64 = 0.1;
/// The last picture after impact, s.
const AFTER_IMPACT_S: f64 = 0.75;

/// Writes one clip, with its pictures or only with its points.
///
/// # Errors
/// When the stream can't be written.
pub fn write_clip(
    out: &mut impl Write,
    params: &SwingParams,
    motion: &dyn Movement,
    view: View,
    size_px: [usize; 2],
    pictures: bool,
) -> io::Result<()> {
    let film = Film::new(params, motion, view, size_px, 0);
    let times_s = times_s(params, motion);
    let header = Header {
        truth: truth(params, motion, film.camera(), view, 0),
        times_s,
        points: point_names(),
    };
    write_json(out, &header)?;
    for (number, &time_s) in header.times_s.iter().enumerate() {
        if pictures {
            out.write_all(&film.frame(time_s, number))?;
        }
        for at in points(&motion.pose(time_s - params.before_s)) {
            for value in at.as_vec3().to_array() {
                out.write_all(&value.to_le_bytes())?;
            }
        }
    }
    Ok(())
}

/// Writes a header: its length as JSON (u32, little-endian) and itself.
pub(crate) fn write_json(out: &mut impl Write, header: &impl Serialize) -> io::Result<()> {
    let text = serde_json::to_vec(header)?;
    out.write_all(&(text.len() as u32).to_le_bytes())?;
    out.write_all(&text)
}

fn times_s(params: &SwingParams, motion: &dyn Movement) -> Vec<f64> {
    let keys = motion.key_times();
    let [top, impact] = [keys.top, keys.impact].map(|t| t + params.before_s);
    let fast = top - FAST_BEFORE_TOP_S..impact + FAST_AFTER_IMPACT_S;
    // A phone's clock knows nothing of the swing's.
    let mut time_s = SLOW_STEP_S * f64::from(hash(params.seed as i32, 3, 5));
    let mut times = Vec::new();
    while time_s < impact + AFTER_IMPACT_S {
        times.push(time_s);
        time_s += if fast.contains(&time_s) {
            FAST_STEP_S
        } else {
            SLOW_STEP_S
        };
    }
    times
}

/// Names of the [`POINTS`] of both sides, in the stream's order.
pub(crate) fn point_names() -> Vec<String> {
    let sides = |name: &&str| ["lead", "trail"].map(|side| format!("{name}_{side}"));
    let mut names = vec![POINTS[0].to_owned()];
    names.extend(POINTS[1..].iter().flat_map(sides));
    names
}

/// The points' places in a pose, m, in the order of their names.
pub(crate) fn points(pose: &Pose) -> impl Iterator<Item = DVec3> {
    let joints = joints(pose);
    point_names().into_iter().map(move |wanted| {
        let (_, at, _) = joints
            .iter()
            .find(|(name, ..)| *name == wanted)
            .expect("every point is a joint of the truth");
        *at
    })
}
