//! The progress letter: after a follow-up, what changed beyond error, then and now at the same moment, what the practice record
//! says, what comes next. Plain words for the player; honest where nothing is sure. One page, and the same on paper.
//!
//! The verdict, its interval and the next step are the follow-up's (`docs/follow-up.md`); this words them.

use crate::ReportError;
use crate::amount::{Amount, Units};
use crate::content::KeyPicture;
use crate::crop::Crop;
use crate::overlay::overlay;
use crate::photo::Photo;
use crate::pictures::check_pictures;
use crate::plain::plain;
use crate::sheet::{List, SheetPicture, photograph};
use crate::when::{Title, When};
use askama::Template;
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use lessonwright_model::{Hand, MeasureName, MomentName, View};
use serde::Serialize;

/// JPEG quality of the two pictures.
const QUALITY: u8 = 84;

/// What a letter is made from.
#[derive(Clone, Debug, PartialEq)]
pub struct LetterContent {
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
    Ok(LetterSheet {
        title: format!("How it is going: {}", content.player),
        academy: content.academy.clone(),
        heading: format!("How it is going, {}", content.player),
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
            Some(both) => format!("Then and now: {}", both[0].picture.moment.plain()),
            None => String::new(),
        },
        pictures: match &content.pictures {
            Some(both) => drawn(content, both)?,
            None => Vec::new(),
        },
        practice: practice(&content.practice),
        next: next(&content.next),
        honest: honest(content),
    })
}

/// The letter as one HTML file that needs nothing else.
///
/// # Errors
/// If a picture is broken.
pub fn letter_page(content: &LetterContent) -> Result<String, ReportError> {
    let sheet = letter_sheet(content)?;
    Ok(LetterPage { sheet }.render()?)
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
    plain(&Amount::new(content.measure, value, content.units))
}

/// A size without a direction: "1.8 cm (0.7 in)".
fn size(content: &LetterContent, value: f64) -> String {
    let amount = Amount::new(content.measure, value.abs(), content.units);
    let joined = |number: &str, unit: &str| match unit {
        "" | "°" | "%" => format!("{number}{unit}"),
        unit => format!("{number}\u{a0}{unit}"),
    };
    let first = joined(&amount.number, amount.unit);
    match &amount.other {
        Some((number, unit)) => format!("{first} ({})", joined(number, unit)),
        None => first,
    }
}

fn answer(content: &LetterContent) -> List {
    let what = format!(
        "Since {} you work on this: {}.",
        content.since, content.drill
    );
    let title = plain(&Title(content.measure));
    let when = plain(&When::new(content.measure, content.moment, content.against));
    let looked = match content.measure.is_timing() {
        true => format!("The number we look at: {title}."),
        false => format!("The number we look at: {title}. {when}."),
    };
    let Some(change) = &content.change else {
        return List {
            heading: "We can’t tell yet".to_owned(),
            items: vec![
                what,
                looked,
                "We need a film from before and one from after. One of them is missing.".to_owned(),
            ],
        };
    };
    let heading = match (change.verdict, change.reached) {
        (LetterVerdict::Real, true) => "You did it",
        (LetterVerdict::Real, false) => "It is changing",
        (LetterVerdict::NotYet, _) => "We can’t tell yet",
        (LetterVerdict::Away, _) => "It went the other way",
    };
    let mut items = vec![what, looked];
    items.extend(told(content, change));
    List {
        heading: heading.to_owned(),
        items,
    }
}

/// The change with its interval, in words.
fn told(content: &LetterContent, change: &LetterChange) -> Vec<String> {
    // Toward the goal is plus from here on.
    let (a, b) = (change.toward * change.low, change.toward * change.high);
    let (least, most) = (a.min(b), a.max(b));
    match change.verdict {
        LetterVerdict::Real => {
            let mut lines = vec![format!(
                "It moved toward your number. The move is at least {} and at most {}.",
                size(content, least),
                size(content, most)
            )];
            lines.push(match change.reached {
                true => "Your number is reached.".to_owned(),
                false => "You are on the way. Your number is not reached yet.".to_owned(),
            });
            if change.in_practice_only {
                lines.push(
                    "We saw it while you did the drill. We still have to see it a day later."
                        .to_owned(),
                );
            }
            lines
        }
        // The whole range lies the right way, and chance alone could bring as much.
        LetterVerdict::NotYet if least > 0.0 => vec![
            format!(
                "It moved the right way, by {} to {}.",
                size(content, least),
                size(content, most)
            ),
            "But a number that was far out often comes back a little by chance. So we wait for more films.".to_owned(),
        ],
        LetterVerdict::NotYet => vec![
            format!(
                "The true change lies between {} the right way and {} the wrong way. So it may be none at all.",
                size(content, most.max(0.0)),
                size(content, least.min(0.0))
            ),
            "This does not mean that the drill fails. More films will tell.".to_owned(),
        ],
        LetterVerdict::Away => {
            let mut lines = vec![format!(
                "It moved away from your number. The move is at least {} and at most {}.",
                size(content, most),
                size(content, least)
            )];
            lines.push(match change.in_practice_only {
                true => "We saw it while you did the drill. A new feel often looks worse at first."
                    .to_owned(),
                false => "That is not your fault. The drill may not suit you.".to_owned(),
            });
            lines
        }
    }
}

fn numbers(content: &LetterContent) -> Vec<[String; 2]> {
    let line = |label: &str, value| [label.to_owned(), said(content, value)];
    let mut lines = Vec::new();
    if let Some(change) = &content.change {
        lines.push(line("Before", change.before));
        lines.push(line("Now", change.after));
    }
    lines.push(line("Reach", content.goal));
    lines
}

/// Both pictures, cropped alike about each golfer.
fn drawn(
    content: &LetterContent,
    both: &[LetterPicture; 2],
) -> Result<Vec<SheetPicture>, ReportError> {
    let mut pictures = Vec::new();
    for (name, one) in ["Then", "Now"].into_iter().zip(both) {
        let picture = &one.picture;
        check_pictures(std::slice::from_ref(picture))?;
        let crop = Crop::around(
            picture.pose().points(),
            picture.picture.width,
            picture.picture.height,
        );
        let photo = Photo::cut(&picture.picture, crop);
        let marks = overlay(picture.pose(), None, content.hand, crop, photo.scale);
        let from = match picture.view {
            View::FaceOn => "face-on",
            View::DownTheLine => "down the line",
        };
        pictures.push(SheetPicture {
            svg: photograph(&photo, &marks, QUALITY)?,
            words: format!(
                "{name}, {}: {} at {}, seen {from}.",
                one.day,
                content.player,
                picture.moment.plain()
            ),
            title: format!("{name}, {}", one.day),
            captions: one
                .value
                .map(|value| said(content, value))
                .into_iter()
                .collect(),
        });
    }
    Ok(pictures)
}

fn practice(all: &[Practised]) -> List {
    let items = all.iter().map(|one| {
        let (swings, days) = (counted(one.swings, "swing"), counted(one.days, "day"));
        match one.how {
            How::Practice => format!("{swings} with the drill, on {days}."),
            How::NotSaid => format!("{swings} on {days}. Nobody said how they were made."),
            How::Later => format!(
                "{swings} a day later or more, with no help, on {days}. These show what you keep."
            ),
            How::Elsewhere => format!("{swings} on the course or with another club, on {days}."),
        }
    });
    let mut items: Vec<String> = items.collect();
    if items.is_empty() {
        items.push("No swing of yours was filmed since the lesson.".to_owned());
    }
    List {
        heading: "What you have filmed since".to_owned(),
        items,
    }
}

fn counted(n: usize, what: &str) -> String {
    match n {
        1 => format!("1 {what}"),
        n => format!("{n} {what}s"),
    }
}

fn next(step: &NextStep) -> List {
    let items: Vec<String> = match step {
        NextStep::Film => vec!["Film your swing a few times. Then we can tell."],
        NextStep::Keep => vec![
            "Keep the same drill.",
            "Film it again a day after you practise, with no help.",
        ],
        NextStep::Progress => vec![
            "Go one step further with the drill.",
            "Then show that it stays on the course.",
        ],
        NextStep::Change => vec![
            "We try another way. It may be a new cue, or a new drill.",
            "Ask before you change it on your own.",
        ],
        NextStep::Wait(why) => vec!["Practice waits for now.", why],
    }
    .into_iter()
    .map(str::to_owned)
    .collect();
    List {
        heading: "What comes next".to_owned(),
        items,
    }
}

fn honest(content: &LetterContent) -> List {
    let mut items = vec![
        "No film is exact. The phone stands a little elsewhere each time, and no two swings are the same. So we give a range. \
         It holds the true change 19 times in 20."
            .to_owned(),
    ];
    if content
        .change
        .is_some_and(|change| change.swings_before == 1)
    {
        items.push("There is only one swing from before. More would make us more sure.".to_owned());
    }
    if content.pictures.is_some() {
        items.push(
            "Two pictures show two swings. The numbers above rest on all of them.".to_owned(),
        );
    }
    List {
        heading: "How sure are we?".to_owned(),
        items,
    }
}
