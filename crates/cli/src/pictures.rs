//! The pictures of a lesson: frames at its moments, and the golfer and club in any frame.

use crate::road::Travelled;
use crate::surroundings::Surroundings;
use anyhow::Result;
use lessonwright_analysis::CleanTrack;
use lessonwright_analysis::club::Shaft;
use lessonwright_media as media;
use lessonwright_media::Clip;
use lessonwright_model::body::LANDMARKS;
use lessonwright_model::{
    Cancel, Choices, Joint, Moment, MomentName, PixelPoint, View, ViewReport,
};
use lessonwright_report::KeyPicture;

/// The moments whose pictures are on the page unless others are chosen.
pub const SHOWN: [MomentName; 4] = [
    MomentName::Address,
    MomentName::Top,
    MomentName::LeadArmLevelDown,
    MomentName::Impact,
];

/// Longest side of the frames that pictures are cropped from, px: a crop of half of it still fills a phone's width.
pub const PICTURE_SIDE_PX: u32 = 1280;

/// The frames nearest to the moments shown, with the cleaned landmarks in them.
pub fn key_pictures(
    around: &Surroundings,
    travelled: &Travelled,
    chosen: &Choices,
    cancel: &Cancel,
) -> Result<Vec<KeyPicture>> {
    let measured = &travelled.measured;
    let is_chosen = |moment: &Moment| {
        let mut chosen = chosen.pictures.iter().flatten();
        chosen.any(|one| (one.view, one.moment) == (moment.view, moment.name))
    };
    // The usual ones always: what the lesson is about is shown by them.
    let shown = |view: View| -> Vec<&Moment> {
        let moments = measured.moments.iter().filter(|m| m.view == view);
        moments
            .filter(|m| SHOWN.contains(&m.name) || is_chosen(m))
            .collect()
    };
    // Side by side: each clip's decoder takes as long as everything that is computed.
    let by_view: Vec<Result<Vec<KeyPicture>>> = std::thread::scope(|scope| {
        let begun: Vec<_> = followed(travelled)
            .into_iter()
            .map(|(clip, followed)| {
                let moments = shown(followed.report.view);
                scope.spawn(move || pictures_of(around, clip, followed, &moments, cancel))
            })
            .collect();
        let ended = begun.into_iter().map(|thread| thread.join());
        ended
            .map(|done| done.expect("a thread that ends"))
            .collect()
    });
    let by_view: Result<Vec<Vec<KeyPicture>>> = by_view.into_iter().collect();
    Ok(by_view?.into_iter().flatten().collect())
}

/// The frame nearest to a moment in one view, if that was found.
pub fn picture_at(
    around: &Surroundings,
    travelled: &Travelled,
    view: View,
    moment: MomentName,
    cancel: &Cancel,
) -> Result<Option<KeyPicture>> {
    let mut moments = travelled.measured.moments.iter();
    let Some(found) = moments.find(|m| (m.view, m.name) == (view, moment)) else {
        return Ok(None);
    };
    let mut all = followed(travelled).into_iter();
    let Some((clip, followed)) = all.find(|(_, followed)| followed.report.view == view) else {
        return Ok(None);
    };
    let pictures = pictures_of(around, clip, followed, &[found], cancel)?;
    Ok(pictures.into_iter().next())
}

fn pictures_of(
    around: &Surroundings,
    clip: &Clip,
    followed: Followed<'_>,
    moments: &[&Moment],
    cancel: &Cancel,
) -> Result<Vec<KeyPicture>> {
    // Two moments of a slow clip may share a frame; it is fetched once.
    let mut frames: Vec<usize> = moments.iter().map(|m| m.frame).collect();
    frames.sort_unstable();
    frames.dedup();
    let grabbed = media::grab(&around.tools, clip, &frames, Some(PICTURE_SIDE_PX), cancel)?;
    moments
        .iter()
        .map(|moment| {
            let at = frames
                .binary_search(&moment.frame)
                .expect("every moment's frame was asked for");
            let picture = grabbed[at].clone();
            let landmarks = followed.landmarks_in(picture.width, moment.frame);
            let club = followed.club_in(picture.width, moment.frame);
            Ok(KeyPicture {
                view: followed.report.view,
                moment: moment.name,
                picture,
                landmarks,
                club,
            })
        })
        .collect()
}

/// Each clip with what was followed through it.
pub fn followed(travelled: &Travelled) -> Vec<(&Clip, Followed<'_>)> {
    let measured = &travelled.measured;
    let clips = travelled.clips.iter().zip(&measured.views);
    clips
        .zip(measured.tracks.iter().zip(&measured.clubs))
        .map(|((clip, report), (track, club))| {
            let followed = Followed {
                report,
                track,
                club,
            };
            (clip, followed)
        })
        .collect()
}

/// What was followed through a clip.
#[derive(Clone, Copy)]
pub struct Followed<'a> {
    /// The clip's report.
    pub report: &'a ViewReport,
    track: &'a CleanTrack,
    club: &'a [Shaft],
}

impl Followed<'_> {
    /// Pixels of a picture of another size in one of those that were followed.
    fn scale(self, width_px: usize) -> f64 {
        width_px as f64 / f64::from(self.report.width_px)
    }

    /// Cleaned landmarks of one frame, px of a picture of this width.
    pub fn landmarks_in(self, width_px: usize, frame: usize) -> Vec<(Joint, PixelPoint)> {
        let Some(index) = self.track.frames.iter().position(|f| *f == frame) else {
            return Vec::new();
        };
        (0..LANDMARKS)
            .filter_map(|number| {
                let joint = Joint::from_number(number)?;
                let at = self.track.at(joint, index)?.at;
                Some((joint, scaled(at, self.scale(width_px))))
            })
            .collect()
    }

    /// The club in one frame, px of a picture of this width.
    pub fn club_in(self, width_px: usize, frame: usize) -> Option<[PixelPoint; 2]> {
        let ends = club_at(self.club, frame)?;
        Some(ends.map(|at| scaled(at, self.scale(width_px))))
    }
}

/// Grip and end of the club in one frame, or between the two around it that show it.
pub fn club_at(club: &[Shaft], frame: usize) -> Option<[PixelPoint; 2]> {
    // Between two pictures as near as these the ends move on straight lines, to a pixel or two.
    const LONGEST_GAP_S: f64 = 0.1;
    const LARGEST_TURN_RAD: f64 = 0.35;
    let before = club.iter().rfind(|shaft| shaft.frame <= frame)?;
    let after = club.iter().find(|shaft| shaft.frame >= frame)?;
    let gap_s = after.time_s - before.time_s;
    let turned = after.angle_rad - before.angle_rad;
    if gap_s > LONGEST_GAP_S || turned.cos() < LARGEST_TURN_RAD.cos() {
        return None;
    }
    let frames = (after.frame - before.frame).max(1) as f64;
    let share = (frame - before.frame) as f64 / frames;
    let between = |a: PixelPoint, b: PixelPoint| PixelPoint {
        x: a.x + share * (b.x - a.x),
        y: a.y + share * (b.y - a.y),
    };
    Some([
        between(before.grip, after.grip),
        between(before.end(), after.end()),
    ])
}

fn scaled(at: PixelPoint, scale: f64) -> PixelPoint {
    PixelPoint {
        x: at.x * scale,
        y: at.y * scale,
    }
}
