//! The fitted body as a still drawing from one side, for where no script runs.

use askama::Template;
use askama::filters::HtmlSafe;
use lessonwright_language::{Text, filters, t};
use lessonwright_model::BodyTracks;

/// Where it is looked at from.
#[derive(Clone, Copy)]
pub enum Side {
    /// From in front of the chest.
    FaceOn,
    /// From behind the hands, along the target line.
    DownTheLine,
    /// From above, the ball below.
    Above,
}

/// A drawing. Displays as SVG.
#[derive(Template)]
#[template(path = "bench_body.html")]
pub struct BodyStill {
    says: Text,
    bones: Vec<[f64; 4]>,
}

impl HtmlSafe for BodyStill {}

/// What is joined, by the points' names.
const BONES: [(&str, &str); 14] = [
    ("lead_shoulder", "trail_shoulder"),
    ("lead_hip", "trail_hip"),
    ("lead_shoulder", "lead_hip"),
    ("trail_shoulder", "trail_hip"),
    ("lead_shoulder", "lead_elbow"),
    ("lead_elbow", "lead_wrist"),
    ("trail_shoulder", "trail_elbow"),
    ("trail_elbow", "trail_wrist"),
    ("lead_hip", "lead_knee"),
    ("lead_knee", "lead_ankle"),
    ("trail_hip", "trail_knee"),
    ("trail_knee", "trail_ankle"),
    ("lead_ankle", "lead_toe"),
    ("trail_ankle", "trail_toe"),
];

impl BodyStill {
    /// A pose from one side; a left-hander's world is mirrored back into what is seen.
    pub fn of(body: &BodyTracks, pose: &[[f64; 3]], side: Side, left_handed: bool) -> BodyStill {
        let seen = |name: &str| -> Option<[f64; 2]> {
            let at = body.points.iter().position(|point| point == name)?;
            let [target, up, ball] = *pose.get(at)?;
            // Right and down in the drawing, cm from its middle on the ground.
            let across = if left_handed { -1.0 } else { 1.0 };
            let (right, down) = match side {
                Side::FaceOn => (across * target, -up),
                Side::DownTheLine => (across * ball, -up),
                Side::Above => (across * target, ball - 0.9),
            };
            Some([right, down].map(|m| (1000.0 * m).round() / 10.0))
        };
        let bone = |(from, to): &(&str, &str)| {
            let ([x1, y1], [x2, y2]) = (seen(from)?, seen(to)?);
            Some([x1, y1, x2, y2])
        };
        BodyStill {
            says: match side {
                Side::FaceOn => t("bench-side-front"),
                Side::DownTheLine => t("bench-side-line"),
                Side::Above => t("bench-side-above"),
            },
            bones: BONES.iter().filter_map(bone).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_left_hander_is_drawn_as_seen() {
        let body = BodyTracks {
            clip: 0,
            from_both_views: true,
            size_rel_sd: 0.01,
            points: vec!["lead_hip".into(), "trail_hip".into()],
            poses: vec![],
        };
        let pose = [[0.15, 0.9, -0.1], [-0.15, 0.9, -0.1]];
        let drawn = |side, left| BodyStill::of(&body, &pose, side, left).bones;
        // Face-on the lead side of a right-hander is at the right, of a left-hander at the left.
        assert_eq!(drawn(Side::FaceOn, false), [[15.0, -90.0, -15.0, -90.0]]);
        assert_eq!(drawn(Side::FaceOn, true), [[-15.0, -90.0, 15.0, -90.0]]);
        // Down the line a right-hander's ball lies to the right.
        assert_eq!(drawn(Side::DownTheLine, false)[0][0], -10.0);
        assert_eq!(drawn(Side::DownTheLine, true)[0][0], 10.0);
    }
}
