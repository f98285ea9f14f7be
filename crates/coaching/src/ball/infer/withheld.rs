//! Which angle the items told can't settle, and the reason as it is said.

use super::super::seen::{SeenBall, Spoilt};
use lessonwright_language::{Text, t};

/// Guesses that agree with everything told are too few.
pub(super) const CONTRADICTION: &str = "ball-why-contradiction";

/// The range tells neither size nor side.
pub(super) const TOO_WIDE: &str = "ball-why-too-wide";

/// A ball that did not come off the face tells nothing of it.
pub(super) fn off_the_face(own: &SeenBall) -> Option<Text> {
    match own.spoilt? {
        Spoilt::Shank => Some(t("ball-why-shank")),
        Spoilt::Top => Some(t("ball-why-top")),
        Spoilt::Sky => Some(t("ball-why-sky")),
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

pub(super) fn why_no_face(own: &SeenBall) -> Option<Text> {
    let known = Known::of(own);
    let given = known.face || known.start || (known.path && known.curve);
    off_the_face(own).or_else(|| (!given).then(|| t("ball-why-no-start-face")))
}

pub(super) fn why_no_path(own: &SeenBall) -> Option<Text> {
    let known = Known::of(own);
    let given = known.path || (known.curve && (known.start || known.face));
    off_the_face(own).or_else(|| {
        (!given).then(|| match (known.start || known.face, known.curve) {
            (true, _) => t("ball-why-no-curve-path"),
            (false, true) => t("ball-why-no-start"),
            (false, false) => t("ball-why-neither"),
        })
    })
}

pub(super) fn why_no_face_to_path(own: &SeenBall) -> Option<Text> {
    let known = Known::of(own);
    let given = known.curve || (known.path && (known.face || known.start));
    off_the_face(own).or_else(|| (!given).then(|| t("ball-why-no-curve")))
}
