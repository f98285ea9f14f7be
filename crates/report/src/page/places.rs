//! Which view shows what, and which way the target lies in it.

use crate::content::{KeyPicture, LessonContent};
use crate::overlay::target_is_left;
use lessonwright_model::{Hand, MeasureName, MomentName, View};

/// The view whose picture shows a measure of the lesson best.
pub(crate) fn view_of(name: MeasureName) -> View {
    match name {
        MeasureName::KneeLineTurn
        | MeasureName::TrailElbowAhead
        | MeasureName::PelvisTowardBall
        | MeasureName::TrailKneeTowardBall
        | MeasureName::HeadTowardBall
        | MeasureName::HandsOverWayBack => View::DownTheLine,
        _ => View::FaceOn,
    }
}

pub(crate) fn target_left(content: &LessonContent) -> bool {
    address_of(content, View::FaceOn)
        .and_then(|address| target_is_left(address.pose(), hand_in(content, View::FaceOn)))
        .unwrap_or(false)
}

pub(crate) fn address_of(content: &LessonContent, view: View) -> Option<&KeyPicture> {
    content
        .pictures
        .iter()
        .find(|p| p.view == view && p.moment == MomentName::Address)
}

pub(crate) fn hand_in(content: &LessonContent, view: View) -> Hand {
    let views = &content.analysis.views;
    let report = views.iter().find(|v| v.view == view).or(views.first());
    report.map_or(Hand::Right, |v| v.hand)
}
