//! The lesson page: puts what the template shows into the order in which it is read.

use crate::ReportError;
use crate::amount::{Amount, Direction, Spread};
use crate::chart::Chart;
use crate::content::{KeyPicture, LessonContent, reference_for};
use crate::crop::Crop;
use crate::overlay::{Overlay, Stroke, ball_is_left, overlay, target_is_left};
use crate::photo::Photo;
use crate::verdict::Verdict;
use crate::when::When;
use askama::Template;
use askama::filters::HtmlSafe;
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use lessonwright_model::{
    CauseGrade, Drill, Hand, Measure, MeasureName, MomentName, PixelPoint, Prescription, Priority,
    View,
};

/// Largest page, bytes: mail servers commonly refuse more than 10 MB, and a player abroad pays for
/// each of them.
const LARGEST_PAGE: usize = 3_000_000;

/// JPEG qualities to try, best first, until the page is small enough.
const QUALITIES: [u8; 3] = [86, 76, 62];

/// The lesson as one HTML file that needs nothing else.
///
/// With a priority the page is about that one thing; without one it says that there is nothing to
/// change, or, if none of the three checks has a number, that too little could be measured.
///
/// # Errors
/// If pictures of one view differ in size, are broken or come twice, or if the page is too large.
pub fn lesson_page(content: &LessonContent) -> Result<String, ReportError> {
    check_pictures(&content.pictures)?;
    first_within(LARGEST_PAGE, |quality| {
        Ok(LessonPage::new(content, quality)?.render()?)
    })
}

/// The page at the best quality at which it is no larger than `limit` bytes.
fn first_within(
    limit: usize,
    page_at: impl Fn(u8) -> Result<String, ReportError>,
) -> Result<String, ReportError> {
    let mut bytes = 0;
    for quality in QUALITIES {
        let page = page_at(quality)?;
        bytes = page.len();
        if bytes <= limit {
            return Ok(page);
        }
    }
    Err(ReportError::TooLarge { bytes, limit })
}

#[derive(Template)]
#[template(path = "lesson.html")]
struct LessonPage<'a> {
    content: &'a LessonContent,
    outcome: Outcome<'a>,
    checks: Vec<Check<'a>>,
    tempo: Vec<Row<'a>>,
    strips: Vec<Strip>,
}

/// What the page is about.
enum Outcome<'a> {
    OneThing(Box<OneThing<'a>>),
    NothingToChange,
    TooLittleMeasured,
}

struct OneThing<'a> {
    priority: &'a Priority,
    /// What was found, in a sentence.
    says: Option<&'a str>,
    /// Before and at the moment of the finding, if both are there.
    pair: Vec<Shot>,
    goal: Option<Goal<'a>>,
    drill: Option<&'a Drill>,
}

struct Goal<'a> {
    prescription: &'a Prescription,
    /// None where no camera shows what is to change.
    number: Option<NumberToReach>,
}

struct NumberToReach {
    measure: MeasureName,
    now: Option<(Amount, Option<Spread>)>,
    reach: Amount,
    when: When,
}

/// One of the three checks.
struct Check<'a> {
    name: MeasureName,
    rows: Vec<Row<'a>>,
}

/// One measure held against its band.
#[derive(Template)]
#[template(path = "row.html")]
struct Row<'a> {
    measure: &'a Measure,
    verdict: Verdict,
    amount: Option<Amount>,
    spread: Option<Spread>,
    band: Option<Band<'a>>,
    chart: Option<Chart>,
}

struct Band<'a> {
    low: Option<Amount>,
    high: Option<Amount>,
    source: &'a str,
}

impl HtmlSafe for Row<'_> {}
impl HtmlSafe for Shot {}

/// The pictures of one view, in the order of the swing.
struct Strip {
    view: View,
    shots: Vec<Shot>,
}

#[derive(Template)]
#[template(path = "shot.html")]
struct Shot {
    id: String,
    view: View,
    moment: MomentName,
    width: usize,
    height: usize,
    /// The JPEG in Base64; empty if the picture is in the page already.
    data: String,
    drawn: Overlay,
    tags: Vec<Tag>,
    captions: Vec<Caption>,
}

/// A number on the picture, near what it is about.
#[derive(Clone)]
struct Tag {
    left_percent: f64,
    top_percent: f64,
    side: TagSide,
    amount: Amount,
}

/// Where a tag lies from its point.
#[derive(Clone, Copy, PartialEq, Eq)]
enum TagSide {
    Below,
    Left,
    Right,
}

/// A number under the picture, in full.
#[derive(Clone)]
struct Caption {
    amount: Amount,
    spread: Spread,
}

const CHECKS: [MeasureName; 3] = [
    MeasureName::PelvisShift,
    MeasureName::KneeLineTurn,
    MeasureName::TrailElbowAhead,
];

/// Tempo, below the checks.
const TEMPO: [MeasureName; 3] = [
    MeasureName::BackswingTime,
    MeasureName::DownswingTime,
    MeasureName::TempoRatio,
];

/// When a lesson looks at the checks. The studio's page of the swing has all moments.
const LOOKED_AT: [MomentName; 3] = [
    MomentName::Top,
    MomentName::LeadArmLevelDown,
    MomentName::Impact,
];

impl<'a> LessonPage<'a> {
    fn new(content: &'a LessonContent, quality: u8) -> Result<LessonPage<'a>, ReportError> {
        let strips = strips(content, quality)?;
        let checks: Vec<Check<'a>> = CHECKS
            .iter()
            .map(|name| Check {
                name: *name,
                rows: rows(content, *name),
            })
            .collect();
        let outcome = match &content.analysis.priority {
            Some(priority) => Outcome::OneThing(Box::new(one_thing(content, priority, &strips))),
            None if checks.iter().any(Check::is_measured) => Outcome::NothingToChange,
            None => Outcome::TooLittleMeasured,
        };
        Ok(LessonPage {
            content,
            outcome,
            checks,
            tempo: TEMPO.iter().flat_map(|name| rows(content, *name)).collect(),
            strips,
        })
    }

    fn hand(&self) -> Hand {
        hand_in(self.content, View::FaceOn)
    }

    /// Measures that are as they should be.
    fn good(&self) -> Vec<&Row<'a>> {
        self.checks
            .iter()
            .flat_map(|check| &check.rows)
            .chain(&self.tempo)
            .filter(|row| row.verdict == Verdict::Inside)
            .collect()
    }

    /// Where the ranges come from, each said once.
    fn sources(&self) -> Vec<&'a str> {
        let mut sources = Vec::new();
        let rows = self
            .checks
            .iter()
            .flat_map(|check| &check.rows)
            .chain(&self.tempo);
        for band in rows.filter_map(|row| row.band.as_ref()) {
            if !sources.contains(&band.source) {
                sources.push(band.source);
            }
        }
        sources
    }

    /// Checks without any number.
    fn withheld(&self) -> Vec<MeasureName> {
        self.checks
            .iter()
            .filter(|check| !check.is_measured())
            .map(|check| check.name)
            .collect()
    }
}

impl Check<'_> {
    fn is_measured(&self) -> bool {
        self.rows.iter().any(|row| row.verdict.is_measured())
    }
}

impl<'a> OneThing<'a> {
    fn has_number(&self) -> bool {
        self.goal.as_ref().is_some_and(|goal| goal.number.is_some())
    }

    /// Why this comes first, without what was said above already.
    fn reasons(&self) -> impl Iterator<Item = &'a String> {
        let said = self.says;
        let chain = self.priority.chain.iter();
        chain.skip_while(move |link| Some(link.as_str()) == said)
    }
}

impl Row<'_> {
    fn when(&self) -> When {
        When::of(self.measure)
    }
}

impl<'a> Outcome<'a> {
    fn goal(&self) -> Option<&Goal<'a>> {
        match self {
            Outcome::OneThing(one) => one.goal.as_ref(),
            Outcome::NothingToChange | Outcome::TooLittleMeasured => None,
        }
    }

    fn number(&self) -> Option<&NumberToReach> {
        self.goal().and_then(|goal| goal.number.as_ref())
    }

    /// The cautions that come with the prescription.
    fn cautions(&self) -> &'a [String] {
        self.goal().map_or(&[], |goal| &goal.prescription.cautions)
    }
}

fn rows<'a>(content: &'a LessonContent, name: MeasureName) -> Vec<Row<'a>> {
    let mirrored = name == MeasureName::PelvisShift && target_left(content);
    content
        .analysis
        .measures
        .iter()
        .filter(|measure| measure.name == name && LOOKED_AT.contains(&measure.moment))
        .map(|measure| row(content, measure, mirrored))
        .collect()
}

fn row<'a>(content: &'a LessonContent, measure: &'a Measure, mirrored: bool) -> Row<'a> {
    let reference = reference_for(
        &content.references,
        measure.name,
        measure.moment,
        measure.against,
    );
    let amount = |value| Amount::new(measure.name, value, content.units);
    let reach = goal_of(content).filter(|g| {
        (g.measure, g.moment, g.against) == (Some(measure.name), measure.moment, measure.against)
    });
    Row {
        measure,
        verdict: Verdict::of(measure, reference),
        amount: measure.value.map(amount),
        spread: spread(content, measure),
        band: reference.map(|reference| Band {
            low: Some(reference.low).filter(|v| v.is_finite()).map(amount),
            high: Some(reference.high).filter(|v| v.is_finite()).map(amount),
            source: &reference.source,
        }),
        chart: Chart::new(
            measure,
            reference,
            reach.and_then(|p| p.reach),
            content.units,
            mirrored,
        ),
    }
}

fn spread(content: &LessonContent, measure: &Measure) -> Option<Spread> {
    let interval = measure.interval()?;
    let (low, high) = (interval.low, interval.high);
    Some(Spread::new(
        measure.name,
        measure.value?,
        low,
        high,
        content.units,
    ))
}

fn one_thing<'a>(
    content: &'a LessonContent,
    priority: &'a Priority,
    strips: &[Strip],
) -> OneThing<'a> {
    let analysis = &content.analysis;
    let finding = analysis.findings.iter().find(|f| f.key == priority.finding);
    let measure = finding.and_then(|f| measure_at(content, f.measure, f.moment, f.against));
    let goal = goal_of(content).map(|prescription| Goal {
        prescription,
        number: number_to_reach(content, prescription),
    });
    OneThing {
        priority,
        says: finding.map(|f| f.says.as_str()),
        pair: measure.map(|m| pair(m, strips)).unwrap_or_default(),
        drill: goal
            .as_ref()
            .and_then(|goal| drill_of(content, goal.prescription)),
        goal,
    }
}

fn number_to_reach(content: &LessonContent, goal: &Prescription) -> Option<NumberToReach> {
    let (measure, reach) = (goal.measure?, goal.reach?);
    Some(NumberToReach {
        measure,
        now: measure_at(content, measure, goal.moment, goal.against)
            .and_then(|m| Some((amount_of(content, m)?, spread(content, m)))),
        when: When::new(measure, goal.moment, goal.against),
        reach: Amount::new(measure, reach, content.units),
    })
}

fn measure_at(
    content: &LessonContent,
    name: MeasureName,
    moment: MomentName,
    against: Option<MomentName>,
) -> Option<&Measure> {
    let is = |m: &&Measure| (m.name, m.moment, m.against) == (name, moment, against);
    content.analysis.measures.iter().find(is)
}

/// The number to reach, where there is a priority that it serves.
fn goal_of(content: &LessonContent) -> Option<&Prescription> {
    let analysis = &content.analysis;
    analysis
        .prescription
        .as_ref()
        .filter(|_| analysis.priority.is_some())
}

fn drill_of<'a>(content: &'a LessonContent, goal: &Prescription) -> Option<&'a Drill> {
    content
        .analysis
        .drills
        .iter()
        .find(|drill| drill.key == goal.drill)
}

/// The picture at the moment that the measure is held against (address, unless it says otherwise)
/// beside the one at the measure's own, in the view that shows it.
fn pair(measure: &Measure, strips: &[Strip]) -> Vec<Shot> {
    let strip = match measure.view {
        Some(view) => strips.iter().find(|s| s.view == view),
        None => strips.iter().find(|s| s.view == view_of(measure.name)),
    };
    let shot = |moment| {
        let shots = strip.map(|s| s.shots.as_slice()).unwrap_or_default();
        shots.iter().find(|s| s.moment == moment).map(Shot::again)
    };
    let before = measure.against.unwrap_or(MomentName::Address);
    match (shot(before), shot(measure.moment)) {
        (Some(before), Some(now)) => vec![before, now],
        _ => Vec::new(),
    }
}

/// The view whose picture shows a measure of the lesson best.
fn view_of(name: MeasureName) -> View {
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

fn target_left(content: &LessonContent) -> bool {
    address_of(content, View::FaceOn)
        .and_then(|address| target_is_left(address, hand_in(content, View::FaceOn)))
        .unwrap_or(false)
}

fn address_of(content: &LessonContent, view: View) -> Option<&KeyPicture> {
    content
        .pictures
        .iter()
        .find(|p| p.view == view && p.moment == MomentName::Address)
}

fn hand_in(content: &LessonContent, view: View) -> Hand {
    let views = &content.analysis.views;
    let report = views.iter().find(|v| v.view == view).or(views.first());
    report.map_or(Hand::Right, |v| v.hand)
}

fn strips(content: &LessonContent, quality: u8) -> Result<Vec<Strip>, ReportError> {
    let mut strips = Vec::new();
    for view in [View::FaceOn, View::DownTheLine] {
        let mut pictures: Vec<&KeyPicture> =
            content.pictures.iter().filter(|p| p.view == view).collect();
        pictures.sort_by_key(|p| p.moment);
        let Some(first) = pictures.first() else {
            continue;
        };
        let points = pictures
            .iter()
            .flat_map(|p| p.landmarks.iter().map(|(_, at)| *at));
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

fn shot(
    content: &LessonContent,
    picture: &KeyPicture,
    crop: Crop,
    quality: u8,
) -> Result<Shot, ReportError> {
    let photo = Photo::cut(&picture.picture, crop);
    let address = address_of(content, picture.view);
    let hand = hand_in(content, picture.view);
    let mut drawn = overlay(picture, address, hand, crop, photo.scale);
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
    let ball_left = address.and_then(|address| ball_is_left(address, hand));
    drawn.elbow = drawn
        .elbow
        .filter(|stroke| points_as(stroke, elbow, ball_left.unwrap_or(false)));
    drawn.trunk_side = drawn.trunk_side.filter(|_| elbow.is_some());
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
        drawn,
    })
}

fn amount_of(content: &LessonContent, measure: &Measure) -> Option<Amount> {
    Some(Amount::new(measure.name, measure.value?, content.units))
}

/// The measure of this name that this picture shows, if it has a number: in the view that shows it,
/// and not one against a moment other than address, which the picture has no line for.
fn measured_at<'a>(
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
fn points_as(stroke: &Stroke, measure: Option<&Measure>, plus_is_left: bool) -> bool {
    let plus = (stroke.to.x < stroke.from.x) == plus_is_left;
    measure
        .and_then(|m| m.value)
        .is_some_and(|value| (value > 0.0) == plus)
}

/// Which lines need explaining under some pictures.
struct Key {
    /// Pelvis or knee line.
    line: bool,
    elbow: bool,
}

impl Key {
    fn of(shots: &[Shot]) -> Key {
        Key {
            line: shots.iter().any(|shot| shot.drawn.now.is_some()),
            elbow: shots.iter().any(|shot| shot.drawn.elbow.is_some()),
        }
    }
}

impl Shot {
    /// A triangle at the end of a level arrow, as an SVG path. Its length is 2 % of the picture's
    /// width, by eye.
    fn arrow_head(&self, shift: &Stroke) -> String {
        let length = 0.02 * self.width as f64;
        let PixelPoint { x, y } = shift.to;
        let base = x + if shift.from.x < x { -length } else { length };
        let half = 0.5 * length;
        format!("M{x:.1} {y:.1}L{base:.1} {:.1}V{:.1}z", y - half, y + half)
    }

    /// Radius of a joint's dot, 0.6 % of the picture's width, by eye.
    fn dot(&self) -> f64 {
        0.006 * self.width as f64
    }

    /// Radius of the ring around the elbow, 1.5 % of the picture's width, by eye.
    fn ring(&self) -> f64 {
        0.015 * self.width as f64
    }

    /// The same picture for a second place on the page, which draws on the first one's data.
    fn again(&self) -> Shot {
        Shot {
            id: self.id.clone(),
            data: String::new(),
            drawn: self.drawn.clone(),
            tags: self.tags.clone(),
            captions: self.captions.clone(),
            ..*self
        }
    }
}

impl Tag {
    /// Under a line, kept inside the picture: a tag of "12.4 cm" is about half of a phone's picture wide.
    fn below(line: Stroke, (width, height): (f64, f64), amount: Amount) -> Tag {
        let x = line.from.midpoint(line.to).x;
        Tag {
            left_percent: (100.0 * x / width).clamp(24.0, 76.0),
            top_percent: (100.0 * line.from.y.max(line.to.y) / height).clamp(0.0, 90.0),
            side: TagSide::Below,
            amount,
        }
    }

    /// Beyond the end of a line, on the side to which it runs; under it where there is no room.
    fn beyond(line: Stroke, frame: (f64, f64), amount: Amount) -> Tag {
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

fn slug(view: View) -> &'static str {
    match view {
        View::FaceOn => "face-on",
        View::DownTheLine => "down-the-line",
    }
}

fn check_pictures(pictures: &[KeyPicture]) -> Result<(), ReportError> {
    for (i, picture) in pictures.iter().enumerate() {
        let (view, moment) = (picture.view, picture.moment);
        let (width, height) = (picture.picture.width, picture.picture.height);
        if !is_whole(picture) {
            return Err(ReportError::PictureBroken { view, moment });
        }
        let same_view = || pictures[..i].iter().filter(|p| p.view == view);
        if same_view().any(|p| p.moment == moment) {
            return Err(ReportError::PictureTwice { view, moment });
        }
        if let Some(first) = same_view().next()
            && (first.picture.width, first.picture.height) != (width, height)
        {
            return Err(ReportError::PictureSize {
                view,
                moment,
                found_width_px: width,
                found_height_px: height,
                first_width_px: first.picture.width,
                first_height_px: first.picture.height,
            });
        }
    }
    Ok(())
}

fn is_whole(picture: &KeyPicture) -> bool {
    let p = &picture.picture;
    let chroma = p.width.div_ceil(2) * p.height.div_ceil(2);
    p.width > 0
        && p.height > 0
        && p.luma.len() == p.width * p.height
        && p.cb.len() == chroma
        && p.cr.len() == chroma
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_best_quality_that_fits_is_taken() {
        let page = |quality| Ok("x".repeat(usize::from(quality)));
        for (limit, bytes) in [(100, 86), (86, 86), (85, 76), (62, 62)] {
            assert_eq!(first_within(limit, page).unwrap().len(), bytes, "{limit}");
        }
        let error = first_within(61, page).unwrap_err();
        assert!(matches!(
            error,
            ReportError::TooLarge {
                bytes: 62,
                limit: 61
            }
        ));
    }
}
