//! The progress letter: after a follow-up, what changed beyond error, then and now at the same moment, what the practice record
//! says, what comes next. Plain words for the player; honest where nothing is sure. One page, and the same on paper.
//!
//! The verdict, its interval and the next step are the follow-up's (`docs/follow-up.md`); this words them.

use crate::ReportError;
use crate::amount::{Amount, Units};
use crate::content::KeyPicture;
use crate::crop::Crop;
use crate::overlay::{Overlay, overlay};
use crate::photo::Photo;
use crate::pictures::check_pictures;
use crate::said::capital;
use crate::sheet::{List, SheetPicture, photograph};
use crate::when::{Title, When};
use askama::Template;
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use lessonwright_language::{Language, Say, Text, filters, t, words};
use lessonwright_model::{Hand, MeasureName, MomentName, View};
use serde::Serialize;

/// JPEG quality of the two pictures.
const QUALITY: u8 = 84;

/// What a letter is made from.
#[derive(Clone, Debug, PartialEq)]
pub struct LetterContent {
    /// The player's language; the drill's title and what the screening says are in it already.
    pub say: Say,
    /// The studio or academy; may be empty.
    pub academy: String,
    /// The professional; may be empty.
    pub coach: String,
    /// The player, as the professional calls them.
    pub player: String,
    /// The letter's date, as it is to be read.
    pub date_text: String,
    /// A few lines from the professional.
    pub note: Option<String>,
    /// The unit of length that comes first.
    pub units: Units,
    /// The drill's title, and since when it is practised ("4 November 2026").
    pub drill: String,
    /// See `drill`.
    pub since: String,
    /// What was to change: measure, moment, and the moment it is held against.
    pub measure: MeasureName,
    /// See `measure`.
    pub moment: MomentName,
    /// See `measure`.
    pub against: Option<MomentName>,
    /// The number to reach, in the measure's unit.
    pub goal: f64,
    /// What became of it; none where there is nothing to hold against each other.
    pub change: Option<LetterChange>,
    /// Swings seen since, by how they were made.
    pub practice: Vec<Practised>,
    /// What comes next.
    pub next: NextStep,
    /// The same moment in the same view, then and now; each its own clip.
    pub pictures: Option<Box<[LetterPicture; 2]>>,
    /// The hand that is played.
    pub hand: Hand,
}

/// What became of the number, in the measure's unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LetterChange {
    /// Whether it is more than error.
    pub verdict: LetterVerdict,
    /// Level before and after.
    pub before: f64,
    /// See `before`.
    pub after: f64,
    /// 95 % interval of the change, after less before.
    pub low: f64,
    /// See `low`.
    pub high: f64,
    /// Plus or minus one: the sign of a change toward the goal.
    pub toward: f64,
    /// Whether the number is reached.
    pub reached: bool,
    /// Whether it rests on swings of practice alone.
    pub in_practice_only: bool,
    /// Swings that the level before rests on.
    pub swings_before: usize,
}

/// What may be said of a change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LetterVerdict {
    /// Toward the goal, beyond error and chance.
    Real,
    /// Within error.
    NotYet,
    /// Away from the goal, beyond error.
    Away,
}

/// Swings of one kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Practised {
    /// How they were made.
    pub how: How,
    /// On so many days.
    pub days: usize,
    /// So many.
    pub swings: usize,
}

/// How swings were made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// With the drill or its cue.
    Practice,
    /// Nobody said.
    NotSaid,
    /// A day later or more, without the cue.
    Later,
    /// On the course, with another club.
    Elsewhere,
}

/// What comes next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NextStep {
    /// Film first.
    Film,
    /// Go on as before.
    Keep,
    /// One step further.
    Progress,
    /// Another cue or drill.
    Change,
    /// Nothing until this is settled: in the screening's words.
    Wait(String),
}

/// One of the two pictures.
#[derive(Clone, Debug, PartialEq)]
pub struct LetterPicture {
    /// The frame with the golfer in it.
    pub picture: KeyPicture,
    /// The day it was filmed ("4 November 2026").
    pub day: String,
    /// The number of this very swing, in the measure's unit, where it was measured.
    pub value: Option<f64>,
}

/// The letter's words and drawings, in the order in which they are read.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LetterSheet {
    /// The tag of its language (BCP 47).
    pub language: &'static str,
    /// The document's title.
    pub title: String,
    /// The studio or academy; may be empty.
    pub academy: String,
    /// The heading.
    pub heading: String,
    /// Date and professional.
    pub byline: String,
    /// Lines from the professional.
    pub note: Vec<String>,
    /// The answer, and what it rests on.
    pub answer: List,
    /// Before, now and to reach: label, and number with its unit and direction.
    pub numbers: Vec<[String; 2]>,
    /// Above the pictures; empty without.
    pub seen: String,
    /// Then and now.
    pub pictures: Vec<SheetPicture>,
    /// What was practised.
    pub practice: List,
    /// What comes next.
    pub next: List,
    /// How far this can be trusted.
    pub honest: List,
}

/// The letter as plain words and drawings.
///
/// # Errors
/// If a picture is broken.
pub fn letter_sheet(content: &LetterContent) -> Result<LetterSheet, ReportError> {
    let dated = [content.date_text.as_str(), content.coach.as_str()];
    let byline: Vec<&str> = dated.into_iter().filter(|part| !part.is_empty()).collect();
    let say = content.say;
    Ok(LetterSheet {
        language: say.language.tag(),
        title: say.text(&t("letter-title").with("player", &content.player)),
        academy: content.academy.clone(),
        heading: say.text(&t("letter-heading").with("player", &content.player)),
        byline: byline.join(", "),
        note: content
            .note
            .iter()
            .flat_map(|note| note.lines())
            .map(str::to_owned)
            .collect(),
        answer: answer(content),
        numbers: numbers(content),
        seen: match &content.pictures {
            Some(both) => {
                let moment = words::moment(both[0].picture.moment);
                say.text(&t("letter-then-and-now").with("moment", moment))
            }
            None => String::new(),
        },
        pictures: match &content.pictures {
            Some(both) => drawn(content, both)?,
            None => Vec::new(),
        },
        practice: practice(&content.practice, say),
        next: next(&content.next, say),
        honest: honest(content),
    })
}

/// The letter as one HTML file that needs nothing else.
///
/// # Errors
/// If a picture is broken.
pub fn letter_page(content: &LetterContent) -> Result<String, ReportError> {
    let sheet = letter_sheet(content)?;
    Ok(content.say.render(&LetterPage { sheet })?)
}

#[derive(Template)]
#[template(path = "letter.html")]
struct LetterPage {
    sheet: LetterSheet,
}

impl LetterPage {
    /// After the pictures.
    fn parts(&self) -> [&List; 3] {
        [&self.sheet.practice, &self.sheet.next, &self.sheet.honest]
    }

    /// A drawing as the address of a picture.
    fn source(svg: &str) -> String {
        format!("data:image/svg+xml;base64,{}", STANDARD.encode(svg))
    }
}

fn said(content: &LetterContent, value: f64) -> String {
    content
        .say
        .text(&Amount::new(content.measure, value, content.units).text())
}

/// A size without a direction: "1.8 cm (0.7 in)".
fn size(content: &LetterContent, value: f64) -> Text {
    Amount::new(content.measure, value.abs(), content.units).size()
}

fn list(say: Say, heading: Text, items: impl IntoIterator<Item = Text>) -> List {
    List {
        heading: say.text(&heading),
        items: items.into_iter().map(|item| say.text(&item)).collect(),
    }
}

fn answer(content: &LetterContent) -> List {
    let what = t("letter-since")
        .with("since", &content.since)
        .with("drill", &content.drill);
    let when = When::new(content.measure, content.moment, content.against).text();
    let measure = capital(&content.say.text(&Title(content.measure).text()));
    let looked = match content.measure.is_timing() {
        true => t("letter-looked"),
        // English begins a sentence there, German does not.
        false => t("letter-looked-when").with("when", begun(when, content.say)),
    };
    let looked = looked.with("measure", measure);
    let Some(change) = &content.change else {
        let items = [what, looked, t("letter-one-missing")];
        return list(content.say, t("letter-cant-tell"), items);
    };
    let heading = match (change.verdict, change.reached) {
        (LetterVerdict::Real, true) => t("letter-did-it"),
        (LetterVerdict::Real, false) => t("letter-changing"),
        (LetterVerdict::NotYet, _) => t("letter-cant-tell"),
        (LetterVerdict::Away, _) => t("letter-other-way"),
    };
    let items = [what, looked].into_iter().chain(told(content, change));
    list(content.say, heading, items)
}

/// As the sentence of the language wants it.
fn begun(when: Text, say: Say) -> Text {
    match say.language {
        Language::English => Text::plain(capital(&say.text(&when))),
        Language::German => when,
    }
}

/// The change with its interval, in words.
fn told(content: &LetterContent, change: &LetterChange) -> Vec<Text> {
    // Toward the goal is plus from here on.
    let (a, b) = (change.toward * change.low, change.toward * change.high);
    let (least, most) = (a.min(b), a.max(b));
    match change.verdict {
        LetterVerdict::Real => {
            let mut lines = vec![
                t("letter-moved-toward")
                    .with("least", size(content, least))
                    .with("most", size(content, most)),
            ];
            lines.push(match change.reached {
                true => t("letter-reached"),
                false => t("letter-on-the-way"),
            });
            if change.in_practice_only {
                lines.push(t("letter-only-practice"));
            }
            lines
        }
        // The whole range lies the right way, and chance alone could bring as much.
        LetterVerdict::NotYet if least > 0.0 => vec![
            t("letter-right-way")
                .with("least", size(content, least))
                .with("most", size(content, most)),
            t("letter-by-chance"),
        ],
        LetterVerdict::NotYet => vec![
            t("letter-maybe-none")
                .with("right", size(content, most.max(0.0)))
                .with("wrong", size(content, least.min(0.0))),
            t("letter-more-films"),
        ],
        LetterVerdict::Away => vec![
            t("letter-moved-away")
                .with("least", size(content, most))
                .with("most", size(content, least)),
            match change.in_practice_only {
                true => t("letter-worse-at-first"),
                false => t("letter-not-your-fault"),
            },
        ],
    }
}

fn numbers(content: &LetterContent) -> Vec<[String; 2]> {
    let line = |label, value| [content.say.text(&t(label)), said(content, value)];
    let mut lines = Vec::new();
    if let Some(change) = &content.change {
        lines.push(line("letter-before", change.before));
        lines.push(line("letter-now", change.after));
    }
    lines.push(line("letter-reach", content.goal));
    lines
}

/// Both pictures, cropped alike about each golfer.
fn drawn(
    content: &LetterContent,
    both: &[LetterPicture; 2],
) -> Result<Vec<SheetPicture>, ReportError> {
    let mut pictures = Vec::new();
    for (name, one) in ["letter-picture-then", "letter-picture-now"]
        .into_iter()
        .zip(both)
    {
        let picture = &one.picture;
        check_pictures(std::slice::from_ref(picture))?;
        let crop = Crop::around(
            picture.pose().points(),
            picture.picture.width,
            picture.picture.height,
        );
        let photo = Photo::cut(&picture.picture, crop);
        let all = overlay(picture.pose(), None, content.hand, crop, photo.scale);
        let (marks, line) = about(content.measure, all, picture.view);
        let when = t(name).with("day", &one.day);
        pictures.push(SheetPicture {
            svg: photograph(&photo, &marks, QUALITY)?,
            words: content.say.text(
                &t("letter-picture")
                    .with("when", &when)
                    .with("player", &content.player)
                    .with("moment", words::moment(picture.moment))
                    .with("view", words::view(picture.view)),
            ),
            title: content.say.text(&when),
            captions: [
                one.value.map(|value| said(content, value)),
                line.map(|what| {
                    let line = t("letter-line").with("what", t(what));
                    content.say.text(&line)
                }),
            ]
            .into_iter()
            .flatten()
            .collect(),
        });
    }
    Ok(pictures)
}

/// The figure with the line that the number is about, and what that line is; what no line shows has the figure alone.
fn about(measure: MeasureName, all: Overlay, view: View) -> (Overlay, Option<&'static str>) {
    let figure = Overlay {
        figure: all.figure,
        club: all.club,
        joints: all.joints,
        ..Overlay::default()
    };
    match (measure, view) {
        (MeasureName::PelvisShift, View::FaceOn)
        | (MeasureName::KneeLineTurn, View::DownTheLine) => {
            let what = match view {
                View::FaceOn => "letter-line-hips",
                View::DownTheLine => "letter-line-knees",
            };
            let line = all.now.map(|_| what);
            let lines = Overlay {
                now: all.now,
                ..figure
            };
            (lines, line)
        }
        (MeasureName::TrailElbowAhead, View::DownTheLine) => {
            let line = all.trunk_side.map(|_| "letter-line-elbow");
            let lines = Overlay {
                trunk_side: all.trunk_side,
                elbow: all.elbow,
                ..figure
            };
            (lines, line)
        }
        _ => (figure, None),
    }
}

fn practice(all: &[Practised], say: Say) -> List {
    let items = all.iter().map(|one| {
        let how = match one.how {
            How::Practice => t("letter-with-the-drill"),
            How::NotSaid => t("letter-not-said"),
            How::Later => t("letter-later"),
            How::Elsewhere => t("letter-elsewhere"),
        };
        how.with("swings", one.swings).with("days", one.days)
    });
    let mut items: Vec<Text> = items.collect();
    if items.is_empty() {
        items.push(t("letter-no-swing"));
    }
    list(say, t("letter-filmed"), items)
}

fn next(step: &NextStep, say: Say) -> List {
    let items = match step {
        NextStep::Film => vec![t("letter-next-film")],
        NextStep::Keep => vec![t("letter-next-keep"), t("letter-next-keep-film")],
        NextStep::Progress => vec![t("letter-next-progress"), t("letter-next-progress-course")],
        NextStep::Change => vec![t("letter-next-change"), t("letter-next-change-ask")],
        NextStep::Wait(why) => vec![t("letter-next-wait"), Text::plain(why)],
    };
    list(say, t("letter-next"), items)
}

fn honest(content: &LetterContent) -> List {
    let mut items = vec![t("letter-honest-range")];
    if content
        .change
        .is_some_and(|change| change.swings_before == 1)
    {
        items.push(t("letter-honest-one"));
    }
    if content.pictures.is_some() {
        items.push(t("letter-honest-pictures"));
    }
    list(content.say, t("letter-honest"), items)
}
