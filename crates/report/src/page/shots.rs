//! The pictures of the page, with what is drawn over them and the numbers near it.

use super::places::{address_of, hand_in, target_left, view_of};
use super::rows::{LOOKED_AT, amount_of, spread};
use crate::ReportError;
use crate::amount::{Amount, Spread};
use crate::content::{KeyPicture, LessonContent};
use crate::crop::Crop;
use crate::overlay::{Overlay, Stroke, ball_is_left, overlay};
use crate::photo::Photo;
use crate::said::filters;
use askama::Template;
use askama::filters::HtmlSafe;
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use lessonwright_language::{Text, t, words};
use lessonwright_model::{ChosenPicture, Measure, MeasureName, MomentName, PixelPoint, View};

/// The pictures of one view, in the order of the swing.
pub(crate) struct Strip {
    pub(crate) view: View,
    pub(crate) shots: Vec<Shot>,
}

#[derive(Template)]
#[template(path = "shot.html")]
pub(crate) struct Shot {
    pub(crate) id: String,
    pub(crate) view: View,
    pub(crate) moment: MomentName,
    pub(crate) width: usize,
    pub(crate) height: usize,
    /// The JPEG in Base64; empty if the picture is in the page already.
    pub(crate) data: String,
    pub(crate) drawn: Overlay,
    pub(crate) tags: Vec<Tag>,
    pub(crate) captions: Vec<Caption>,
    /// The professional's words under it; may be empty.
    pub(crate) said: String,
    /// Whether the page shows it moment by moment.
    pub(crate) listed: bool,
}

impl HtmlSafe for Shot {}

/// A number on the picture, near what it is about.
#[derive(Clone)]
pub(crate) struct Tag {
    pub(crate) left_percent: f64,
    pub(crate) top_percent: f64,
    pub(crate) side: TagSide,
    pub(crate) amount: Amount,
}

/// Where a tag lies from its point.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum TagSide {
    Below,
    Left,
    Right,
}

/// A number under the picture, in full.
#[derive(Clone)]
pub(crate) struct Caption {
    pub(crate) amount: Amount,
    pub(crate) spread: Spread,
}

impl Caption {
    /// "Pelvis 3.2 cm away from the target, ± 1.2 cm".
    pub(crate) fn text(&self) -> Text {
        let noun = match self.amount.measure {
            MeasureName::PelvisShift => t("lesson-noun-pelvis"),
            MeasureName::KneeLineTurn => t("lesson-noun-knees"),
            MeasureName::TrailElbowAhead => t("lesson-noun-elbow"),
            other => words::measure(other),
        };
        let number = Text::joined([noun, self.amount.text()], " ");
        Text::joined([number, self.spread.text()], ", ")
    }
}

pub(crate) fn strips(content: &LessonContent, quality: u8) -> Result<Vec<Strip>, ReportError> {
    let mut strips = Vec::new();
    for view in [View::FaceOn, View::DownTheLine] {
        let mut pictures: Vec<&KeyPicture> =
            content.pictures.iter().filter(|p| p.view == view).collect();
        pictures.sort_by_key(|p| p.moment);
        let Some(first) = pictures.first() else {
            continue;
        };
        let ball = ball_in(content, first);
        let points = pictures.iter().flat_map(|p| p.pose().points()).chain(ball);
        let crop = Crop::around(points, first.picture.width, first.picture.height);
        let mut shots = pictures
            .iter()
            .map(|picture| shot(content, picture, crop, quality))
            .collect::<Result<Vec<_>, _>>()?;
        if !Key::of(&shots).line {
            // A line at address with nothing to compare it to says nothing.
            shots.iter_mut().for_each(|shot| shot.drawn.before = None);
        }
        strips.push(Strip { view, shots });
    }
    Ok(strips)
}

/// Where the ball lies in a picture, px, if it was seen.
fn ball_in(content: &LessonContent, picture: &KeyPicture) -> Option<PixelPoint> {
    let mut views = content.analysis.views.iter();
    let report = views.find(|v| v.view == picture.view)?;
    let scale = picture.picture.width as f64 / f64::from(report.width_px);
    let ball = report.ball?;
    Some(PixelPoint {
        x: scale * ball.x,
        y: scale * ball.y,
    })
}

fn shot(
    content: &LessonContent,
    picture: &KeyPicture,
    crop: Crop,
    quality: u8,
) -> Result<Shot, ReportError> {
    let photo = Photo::cut(&picture.picture, crop);
    let address = address_of(content, picture.view);
    let hand = hand_in(content, picture.view);
    let mut drawn = overlay(
        picture.pose(),
        address.map(KeyPicture::pose),
        hand,
        crop,
        photo.scale,
    );
    let shown = |name| measured_at(content, name, picture);
    let pelvis = shown(MeasureName::PelvisShift);
    let knees = shown(MeasureName::KneeLineTurn);
    let elbow = shown(MeasureName::TrailElbowAhead);
    if picture.moment != MomentName::Address && pelvis.or(knees).is_none() {
        drawn.before = None;
        drawn.now = None;
    }
    drawn.shift = drawn
        .shift
        .filter(|stroke| points_as(stroke, pelvis, target_left(content)));
    let ball_left = address.and_then(|address| ball_is_left(address.pose(), hand));
    drawn.elbow = drawn
        .elbow
        .filter(|stroke| points_as(stroke, elbow, ball_left.unwrap_or(false)));
    drawn.trunk_side = drawn.trunk_side.filter(|_| elbow.is_some());
    let chosen = chosen(content, picture);
    let frame = (photo.width as f64, photo.height as f64);
    let below = |line: Option<Stroke>, measure: Option<&Measure>| {
        Some(Tag::below(line?, frame, amount_of(content, measure?)?))
    };
    let elbow_tag = |line: Option<Stroke>, measure: Option<&Measure>| {
        Some(Tag::beyond(line?, frame, amount_of(content, measure?)?))
    };
    let captions = [pelvis, knees, elbow]
        .into_iter()
        .flatten()
        .filter_map(|measure| {
            Some(Caption {
                amount: amount_of(content, measure)?,
                spread: spread(content, measure)?,
            })
        });
    Ok(Shot {
        id: format!("{}-{}", slug(picture.view), picture.moment as usize),
        view: picture.view,
        moment: picture.moment,
        width: photo.width,
        height: photo.height,
        data: STANDARD.encode(photo.jpeg(quality)?),
        tags: [
            below(drawn.now, pelvis.or(knees)),
            elbow_tag(drawn.elbow, elbow),
        ]
        .into_iter()
        .flatten()
        .collect(),
        captions: captions.collect(),
        said: chosen.map_or_else(String::new, |one| one.caption.trim().to_owned()),
        listed: content.chosen.is_none() || chosen.is_some(),
        drawn,
    })
}

/// What the professional chose of a picture, if they did.
fn chosen<'a>(content: &'a LessonContent, picture: &KeyPicture) -> Option<&'a ChosenPicture> {
    let mut chosen = content.chosen.iter().flatten();
    chosen.find(|one| (one.view, one.moment) == (picture.view, picture.moment))
}

/// The measure of this name that this picture shows, if it has a number: in the view that shows it,
/// and not one against a moment other than address, which the picture has no line for.
pub(crate) fn measured_at<'a>(
    content: &'a LessonContent,
    name: MeasureName,
    picture: &KeyPicture,
) -> Option<&'a Measure> {
    let shows = picture.view == view_of(name) && LOOKED_AT.contains(&picture.moment);
    content.analysis.measures.iter().find(|m| {
        shows
            && m.name == name
            && m.moment == picture.moment
            && m.against.is_none_or(|a| a == MomentName::Address)
            && m.value.is_some()
    })
}

/// A line stands for a number: it is not drawn without one, nor if it points the other way
/// (landmarks are rougher than the measure).
pub(crate) fn points_as(stroke: &Stroke, measure: Option<&Measure>, plus_is_left: bool) -> bool {
    let plus = (stroke.to.x < stroke.from.x) == plus_is_left;
    measure
        .and_then(|m| m.value)
        .is_some_and(|value| (value > 0.0) == plus)
}

/// Which lines need explaining under some pictures.
pub(crate) struct Key {
    /// Pelvis or knee line.
    pub(crate) line: bool,
    pub(crate) elbow: bool,
}

impl Key {
    pub(crate) fn of(shots: &[Shot]) -> Key {
        Key {
            line: shots.iter().any(|shot| shot.drawn.now.is_some()),
            elbow: shots.iter().any(|shot| shot.drawn.elbow.is_some()),
        }
    }
}

/// "Face-on".
pub(crate) fn view_title(view: View) -> Text {
    match view {
        View::FaceOn => t("lesson-view-face-on"),
        View::DownTheLine => t("lesson-view-down-the-line"),
    }
}

impl Strip {
    pub(crate) fn title(&self) -> Text {
        view_title(self.view)
    }

    /// What the page shows moment by moment. A picture that is drawn on elsewhere by its name stays in the page.
    pub(crate) fn listed(&self) -> impl Iterator<Item = &Shot> {
        self.shots.iter().filter(|shot| shot.listed)
    }

    pub(crate) fn lists_any(&self) -> bool {
        self.listed().next().is_some()
    }
}

impl Shot {
    /// A triangle at the end of a level arrow, as an SVG path. Its length is 2 % of the picture's
    /// width, by eye.
    pub(crate) fn arrow_head(&self, shift: &Stroke) -> String {
        let length = 0.02 * self.width as f64;
        let PixelPoint { x, y } = shift.to;
        let base = x + if shift.from.x < x { -length } else { length };
        let half = 0.5 * length;
        format!("M{x:.1} {y:.1}L{base:.1} {:.1}V{:.1}z", y - half, y + half)
    }

    /// Radius of a joint's dot, 0.6 % of the picture's width, by eye.
    pub(crate) fn dot(&self) -> f64 {
        0.006 * self.width as f64
    }

    /// Radius of the ring around the elbow, 1.5 % of the picture's width, by eye.
    pub(crate) fn ring(&self) -> f64 {
        0.015 * self.width as f64
    }

    /// The same picture for a second place on the page, with what one measure is about alone; it draws on the
    /// first one's data.
    pub(crate) fn about(&self, measure: MeasureName) -> Shot {
        let is = |amount: &Amount| amount.measure == measure;
        Shot {
            id: self.id.clone(),
            data: match self.listed {
                true => String::new(),
                // Its first place is not on the page.
                false => self.data.clone(),
            },
            drawn: self.drawn.only(measure),
            tags: self
                .tags
                .iter()
                .filter(|t| is(&t.amount))
                .cloned()
                .collect(),
            captions: self
                .captions
                .iter()
                .filter(|c| is(&c.amount))
                .cloned()
                .collect(),
            said: self.said.clone(),
            ..*self
        }
    }
}

impl Tag {
    /// Under a line, kept inside the picture: a tag of "12.4 cm" is about half of a phone's picture wide.
    pub(crate) fn below(line: Stroke, (width, height): (f64, f64), amount: Amount) -> Tag {
        let x = line.from.midpoint(line.to).x;
        Tag {
            left_percent: (100.0 * x / width).clamp(24.0, 76.0),
            top_percent: (100.0 * line.from.y.max(line.to.y) / height).clamp(0.0, 90.0),
            side: TagSide::Below,
            amount,
        }
    }

    /// Beyond the end of a line, on the side to which it runs; under it where there is no room.
    pub(crate) fn beyond(line: Stroke, frame: (f64, f64), amount: Amount) -> Tag {
        const ROOM_PERCENT: f64 = 50.0;
        let left_percent = 100.0 * line.to.x / frame.0;
        let side = match line.to.x >= line.from.x {
            true if left_percent <= 100.0 - ROOM_PERCENT => TagSide::Right,
            false if left_percent >= ROOM_PERCENT => TagSide::Left,
            _ => return Tag::below(line, frame, amount),
        };
        Tag {
            left_percent,
            top_percent: (100.0 * line.to.y / frame.1).clamp(5.0, 95.0),
            side,
            amount,
        }
    }
}

pub(crate) fn slug(view: View) -> &'static str {
    match view {
        View::FaceOn => "face-on",
        View::DownTheLine => "down-the-line",
    }
}
