//! A rendered golfer before a virtual phone, with exact truth (development).
//!
//! One [`SwingParams`] is one swing of one player, filmed from one or two places. [`truth()`] says
//! what is exactly so, [`render_frame`] draws what a phone would record, [`sound_of`] what it would
//! hear. Nothing here knows the crates it tests. The same parameters give the same bytes.
//!
//! ```
//! use lessonwright_stage::{SwingParams, View, truth};
//!
//! let params = SwingParams::default();
//! let truth = truth(&params, View::FaceOn, [270, 480]).unwrap();
//! let shift = truth.measures.iter().find(|m| m.name == "pelvis_shift").unwrap();
//! assert_eq!(shift.unit, "cm");
//! ```

pub mod body;
pub mod camera;
pub mod captured;
pub mod channel;
pub mod club_seen;
pub mod cutouts;
pub mod drill;
pub mod driven;
pub mod field;
pub mod figure;
pub mod figures;
pub mod film;
pub mod flight;
pub mod measures;
pub mod moments;
pub mod motion;
pub mod noise;
pub mod params;
pub mod pose;
pub mod random;
pub mod scene;
pub mod shade;
pub mod skeleton;
pub mod skin;
pub mod sound;
pub mod stream;
pub mod things;
pub mod truth;

pub use moments::MomentName;
pub use params::{BadParams, Hand, SwingParams, View};
pub use truth::Truth;

use camera::Camera;
use film::Film;
use motion::{Motion, Movement};

/// Samples of a silhouette pixel that look good at full size.
pub const GOOD_SAMPLES: usize = 4;

/// The truth of a whole clip.
///
/// # Errors
/// When a parameter lies outside its range.
pub fn truth(params: &SwingParams, view: View, size_px: [usize; 2]) -> Result<Truth, BadParams> {
    params.check()?;
    let motion = Motion::new(params);
    let camera = camera_of(params, &motion, view, size_px);
    let frames = truth::frame_count(params, &motion);
    Ok(truth::truth(params, &motion, &camera, view, frames))
}

/// The frame at a time of the clip, s from its first frame: RGB bytes, row by row from the top.
/// For many frames set up one [`Film`].
///
/// # Errors
/// When a parameter lies outside its range.
pub fn render_frame(
    params: &SwingParams,
    view: View,
    size_px: [usize; 2],
    time_s: f64,
    samples: usize,
) -> Result<Vec<u8>, BadParams> {
    params.check()?;
    let motion = Motion::new(params);
    let film = Film::new(params, &motion, view, size_px, samples);
    let number = (time_s * params.phone.rate_hz).round().max(0.0) as usize;
    Ok(film.frame(time_s, number))
}

/// The sound track of a whole clip, each sample in −1…1 at [`sound::SAMPLE_RATE_HZ`].
///
/// # Errors
/// When a parameter lies outside its range.
pub fn sound_of(params: &SwingParams, view: View) -> Result<Vec<f32>, BadParams> {
    params.check()?;
    let motion = Motion::new(params);
    let camera = camera_of(params, &motion, view, [9, 16]);
    let frames = truth::frame_count(params, &motion);
    let length_s = frames as f64 / params.phone.rate_hz;
    Ok(sound::sound_track(params, &motion, &camera, length_s))
}

fn camera_of(
    params: &SwingParams,
    motion: &dyn Movement,
    view: View,
    size_px: [usize; 2],
) -> Camera {
    let place = params.place(view);
    Camera::new(place, view, params.hand, motion.ball().z, size_px)
}
