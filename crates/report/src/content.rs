//! What a lesson page is made from.

use crate::amount::Units;
use lessonwright_language::Say;
use lessonwright_model::{
    ChosenPicture, DrillFigure, Joint, Layout, MeasureName, MomentName, Picture, PixelPoint,
    PracticePlan, SwingAnalysis, View,
};

/// Everything that is on a lesson page.
#[derive(Clone, Debug, PartialEq)]
pub struct LessonContent {
    /// The player's language. What the coaching says in `analysis`, `references` and `plan` is in it already.
    pub say: Say,
    /// The studio or academy; may be empty.
    pub academy: String,
    /// The professional; may be empty.
    pub coach: String,
    /// The player, as the professional calls them.
    pub player: String,
    /// The lesson's date, as it is to be read ("25 November 2026").
    pub date_text: String,
    /// The player's unit of length; the other follows in brackets.
    pub units: Units,
    /// A few lines from the professional in their own words.
    pub coach_note: Option<String>,
    /// The numbers, findings, priority and drills.
    pub analysis: SwingAnalysis,
    /// The bands that measures are held against. A measure without one is shown without a verdict.
    pub references: Vec<Reference>,
    /// In any order; at most one a view and moment. May be empty.
    pub pictures: Vec<KeyPicture>,
    /// Of these, what the professional wants shown moment by moment and says under it; all, and nothing, where none is given.
    pub chosen: Option<Vec<ChosenPicture>>,
    /// The practice until the next lesson.
    pub plan: Option<PracticePlan>,
    /// Pictures of the drill.
    pub figure: Option<DrillFigure>,
    /// What lies where on the ground for the drill; none where nothing does.
    pub layout: Option<Layout>,
    /// Where the swing was not filmed but captured by another system: within which its points are taken to be right, 95 of
    /// 100 times, mm; its pictures are drawn then, and the ± follows from that.
    pub captured_within_mm: Option<f64>,
    /// The swing slowed down, to be played in the page.
    pub moving: Option<MovingPicture>,
}

/// A short film without sound.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MovingPicture {
    /// An MP4 file that every browser plays (H.264).
    pub mp4: Vec<u8>,
    /// Its width, px.
    pub width_px: usize,
    /// Its height, px.
    pub height_px: usize,
}

/// The band a measure is held against.
#[derive(Clone, Debug, PartialEq)]
pub struct Reference {
    /// The measure.
    pub measure: MeasureName,
    /// When it is taken.
    pub moment: MomentName,
    /// The moment it is held against; none for a band that holds whatever that is.
    pub against: Option<MomentName>,
    /// Lower end, in the measure's unit; minus infinity for a band open below.
    pub low: f64,
    /// Upper end; infinity for a band open above.
    pub high: f64,
    /// Where it comes from, with its doubt.
    pub source: String,
}

/// The band for a measure at a moment, if there is one; one that names the moment it is held
/// against goes before one that does not.
pub fn reference_for(
    references: &[Reference],
    measure: MeasureName,
    moment: MomentName,
    against: Option<MomentName>,
) -> Option<&Reference> {
    let of = |wanted| {
        let is =
            move |r: &&Reference| (r.measure, r.moment, r.against) == (measure, moment, wanted);
        references.iter().find(is)
    };
    of(against).or_else(|| of(None))
}

/// One frame of a clip at a moment, with the golfer's landmarks in it.
#[derive(Clone, Debug, PartialEq)]
pub struct KeyPicture {
    /// Where the camera stood.
    pub view: View,
    /// Which moment it shows.
    pub moment: MomentName,
    /// The whole upright frame. All pictures of one view have one size; the page crops them alike.
    pub picture: Picture,
    /// The golfer's landmarks, px of `picture`. Leave out those not to be trusted: what is missing
    /// is not drawn.
    pub landmarks: Vec<(Joint, PixelPoint)>,
    /// The club from the grip as far as it is seen, px of `picture`.
    pub club: Option<[PixelPoint; 2]>,
}

impl KeyPicture {
    /// The golfer in it.
    pub fn pose(&self) -> Pose<'_> {
        Pose {
            view: self.view,
            landmarks: &self.landmarks,
            club: self.club,
        }
    }
}

/// The golfer in one frame, px of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose<'a> {
    /// Where the camera stood.
    pub view: View,
    /// Landmarks; what is missing is not drawn.
    pub landmarks: &'a [(Joint, PixelPoint)],
    /// The club from the grip as far as it is seen.
    pub club: Option<[PixelPoint; 2]>,
}

impl<'a> Pose<'a> {
    /// One landmark, if it is there and finite.
    pub fn landmark(&self, joint: Joint) -> Option<PixelPoint> {
        self.landmarks
            .iter()
            .find(|(j, at)| *j == joint && at.x.is_finite() && at.y.is_finite())
            .map(|(_, at)| *at)
    }

    /// Every point that a window around the golfer has to hold: body and club.
    pub fn points(self) -> impl Iterator<Item = PixelPoint> + use<'a> {
        let body = self.landmarks.iter().map(|(_, at)| *at);
        body.chain(self.club.into_iter().flatten())
    }
}
