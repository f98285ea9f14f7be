//! Which angle the items told can't settle, and the reason as it is said.

use super::super::seen::{SeenBall, Spoilt};

/// Guesses that agree with everything told are too few.
pub(super) const CONTRADICTION: &str = "the numbers told do not fit one strike: check signs (right is +) and units, or leave the \
     doubtful one out";

/// The range tells neither size nor side.
pub(super) const TOO_WIDE: &str =
    "too uncertain: the range is over 20° wide and does not tell the side";

/// A ball that did not come off the face tells nothing of it.
pub(super) fn off_the_face(own: &SeenBall) -> Option<String> {
    match own.spoilt? {
        Spoilt::Shank => Some("the hosel hit the ball, not the face".into()),
        Spoilt::Top => Some("the ball was hit on its upper half, not by the face".into()),
        Spoilt::Sky => Some("the ball came off the top edge, not the face".into()),
        Spoilt::Fat | Spoilt::Thin => None,
    }
}

/// What is known of a ball, by which the unknown follows: any two of start line and club angles,
/// with the curve for the third.
struct Known {
    start: bool,
    curve: bool,
    face: bool,
    path: bool,
}

impl Known {
    fn of(own: &SeenBall) -> Known {
        Known {
            start: own.start.is_some() || own.measured.start_rad.is_some(),
            curve: own.curve.is_some()
                || own.measured.axis_rad.is_some()
                || own.curve_m().is_some(),
            face: own.measured.face_rad.is_some(),
            path: own.measured.path_rad.is_some(),
        }
    }
}

pub(super) fn why_no_face(own: &SeenBall) -> Option<String> {
    let known = Known::of(own);
    let given = known.face || known.start || (known.path && known.curve);
    off_the_face(own).or_else(|| {
        (!given).then(|| "where the ball started was not told, and it starts near the face".into())
    })
}

pub(super) fn why_no_path(own: &SeenBall) -> Option<String> {
    let known = Known::of(own);
    let given = known.path || (known.curve && (known.start || known.face));
    off_the_face(own).or_else(|| {
        (!given).then(|| match (known.start || known.face, known.curve) {
            (true, _) => {
                "how the ball curved was not told, and the path shows only in the curve".into()
            }
            (false, true) => "where the ball started was not told".into(),
            (false, false) => "neither start nor curve was told".into(),
        })
    })
}

pub(super) fn why_no_face_to_path(own: &SeenBall) -> Option<String> {
    let known = Known::of(own);
    let given = known.curve || (known.path && (known.face || known.start));
    off_the_face(own)
        .or_else(|| (!given).then(|| "how the ball curved was not told, and that shows it".into()))
}
