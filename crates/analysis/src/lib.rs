//! Landmarks in; cleaned track, view and hand, moments and measures with their ± out.
//!
//! [`analyse`] takes one clip of a swing, or two views of the same swing, and returns every
//! measure of this version with its state. It knows nothing of pixels' colours, files or storage.
//! Definitions of each measure are in `docs/measures`; how wide the ± is, and on what it was
//! tuned, in [`calibration`].
//!
//! Inside, time is *real* seconds from the clip's first frame; a slow-motion file's own clock is
//! turned into it on the way in and back on the way out ([`clock`]).

pub mod benchmark;
mod body_fit;
mod by_hand;
pub mod calibration;
pub mod captured;
pub mod clean;
pub mod clock;
pub mod club;
mod combine;
mod error;
mod hands;
mod measures;
mod moments;
pub mod pairing;
mod parallax;
mod path;
pub mod placement;
mod proportions;
mod recognise;
mod scale;
mod view;

pub use body_fit::SwingBody;
pub use calibration::{Calibration, Way};
pub use captured::analyse_captured;
use club::ClubWay;

pub use clean::{CleanTrack, Origin, TrackPoint};
pub use error::AnalysisError;
pub use scale::{BodyLengths, KnownLength, Scale};

use lessonwright_model::{
    ClipFacts, ClubTrack, Corrections, Hand, LandmarkTrack, Measure, Moment, PlayerFacts, Strike,
    View, ViewReport,
};

/// What is known of one clip before the analysis.
#[derive(Clone, Debug, PartialEq)]
pub struct ClipObservation {
    /// The file's facts.
    pub facts: ClipFacts,
    /// The golfer's landmarks, over one swing.
    pub track: LandmarkTrack,
    /// The same with landmarks moved to joint centres, where that could be done: what is measured, if
    /// every clip has them. View and hand are recognised from `track`.
    pub centres: Option<LandmarkTrack>,
    /// The club, where it was looked for.
    pub club: Option<ClubTrack>,
    /// Strikes heard in the clip.
    pub strikes: Vec<Strike>,
    /// The view, where the user says so.
    pub view: Option<View>,
    /// The player's hand, where the user says so for this clip.
    pub hand: Option<Hand>,
}

/// What the professional can tell of the set-up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Settings {
    /// Distance from the camera to the player's hips, m; the same for each view. Without it a
    /// usual one is taken with a wide margin: each metre is 3 ms of the strike's sound.
    pub camera_distance_m: Option<f64>,
    /// Lengths known in the picture (a club lying at the player's feet, the ball), best first.
    pub known_lengths: Vec<KnownLength>,
    /// How wrong the points are; left out, as wrong as those of the project's own networks.
    pub calibration: Option<Calibration>,
    /// How the measures are taken that the picture's plane gives as well as the fitted body: pelvis
    /// shift, knee line turn and trail elbow.
    pub checks: Way,
    /// Fit no body, and withhold what rests on it: saves a second or two.
    pub without_body: bool,
    /// What was corrected by hand: moments and joints. A stature or capture rate that was corrected is
    /// the caller's to put into the facts of player and clip.
    pub corrections: Corrections,
}

/// Everything measured of one swing.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// One per clip, in the order given.
    pub views: Vec<ViewReport>,
    /// In the order of the swing, for each view in turn. A moment that was not found is absent;
    /// the view's warnings say why.
    pub moments: Vec<Moment>,
    /// Every measure of this version, also those that could not be measured.
    pub measures: Vec<Measure>,
    /// The cleaned landmarks, one per clip, in the order given.
    pub tracks: Vec<CleanTrack>,
    /// The club, one way per clip, in the order given; empty where it was not looked for.
    pub clubs: Vec<ClubWay>,
    /// The scale of each clip; `None` where there is none.
    pub scales: Vec<Option<Scale>>,
    /// The fitted body: one from both views of one motion, else one from each clip. One that could not
    /// be fitted is absent; the measures that rest on it say why.
    pub bodies: Vec<SwingBody>,
}

/// A clip as it looks before its landmarks are moved to joint centres: what that needs to know.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outline {
    /// Where the camera stands.
    pub view: View,
    /// The player's hand.
    pub hand: Hand,
    /// Address, s of the file's clock; the top where no rest is seen before it.
    pub address_s: f64,
    /// Impact, s of the file's clock.
    pub impact_s: f64,
}

/// View, hand and the two moments that frame a swing, for each clip.
///
/// # Errors
/// Those of [`analyse`].
pub fn outlines(
    clips: &[ClipObservation],
    player: &PlayerFacts,
    settings: &Settings,
) -> Result<Vec<Outline>, AnalysisError> {
    let mut settings = settings.clone();
    // Joints are placed by hand among the joint centres; here are landmarks.
    for clip in settings.corrections.clips.values_mut() {
        clip.joints.clear();
    }
    let views = read(clips, player, &settings)?;
    Ok(views.iter().map(view::SwingView::outline).collect())
}

/// Measures one swing seen in one clip, or in two clips of different views.
///
/// # Errors
/// When a clip cannot be read as one swing seen from a known view; see [`AnalysisError`]. A
/// measure that cannot be had is no error: it is in the list with its state and reason.
pub fn analyse(
    clips: &[ClipObservation],
    player: &PlayerFacts,
    settings: &Settings,
) -> Result<Measured, AnalysisError> {
    let mut views = read(clips, player, settings)?;
    let together = combine::combine(&mut views)?;
    views
        .iter_mut()
        .for_each(view::SwingView::warn_of_missing_moments);
    placement::check(&mut views);
    let bodies = if settings.without_body {
        Vec::new()
    } else {
        body_fit::fit_all(&views, together, player, settings.camera_distance_m)
    };
    let measures = measures::all(&views, together, &bodies, settings.checks);
    Ok(Measured {
        moments: views.iter().flat_map(view::SwingView::moments).collect(),
        measures,
        scales: views.iter().map(|v| v.scale.clone().ok()).collect(),
        bodies: bodies.into_iter().filter_map(|(_, b)| b.ok()).collect(),
        tracks: views.iter().map(|v| v.track.clone()).collect(),
        clubs: views.iter().map(|v| v.club.clone()).collect(),
        views: views.into_iter().map(|v| v.report).collect(),
    })
}

fn read(
    clips: &[ClipObservation],
    player: &PlayerFacts,
    settings: &Settings,
) -> Result<Vec<view::SwingView>, AnalysisError> {
    settings.corrections.check()?;
    match clips.len() {
        0 => Err(AnalysisError::NoClip),
        1 | 2 => view::read_all(clips, player, settings),
        more => Err(AnalysisError::TooManyClips(more)),
    }
}
