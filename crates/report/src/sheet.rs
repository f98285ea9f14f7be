//! The lesson for paper: the page's words as plain text and its pictures as drawings that stand alone, in the
//! order in which they are read. What sets it in type adds no words.

use crate::ReportError;
use crate::content::LessonContent;
use crate::marks::{Mark, Shape, marks};
use crate::overlay::Overlay;
use crate::page::{Goal, LessonPage, NumberToReach, OneThing, Outcome, Shot};
use crate::photo::Photo;
use crate::practice::StationPlan;
use crate::said::{capital, rendered};
use askama::Template;
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use lessonwright_language::{Say, Text, t, words};
use serde::Serialize;

/// JPEG quality on paper: a printer at 300 dots an inch shows what a screen does not.
const QUALITY: u8 = 86;

/// A lesson for paper.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LessonSheet {
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
    /// Which side is which.
    pub sides: String,
    /// Lines from the professional.
    pub note: Vec<String>,
    /// What it is about.
    pub one_thing: Part,
    /// Above the pictures.
    pub seen: String,
    /// Before and at the moment of the finding.
    pub pictures: Vec<SheetPicture>,
    /// What the lines in them mean; empty without pictures.
    pub key: Vec<SheetKeyLine>,
    /// Why, as steps.
    pub why: List,
    /// How the ball flies: SVG, and the same in words.
    pub flight: Option<[String; 2]>,
    /// How sure that is, and what would change it.
    pub doubts: Vec<[String; 2]>,
    /// The goal.
    pub goal: Option<SheetGoal>,
    /// The drill.
    pub drill: Option<SheetDrill>,
    /// How to film the check.
    pub film: List,
    /// Where to put the phone: SVG, and the same in words.
    pub film_plan: [String; 2],
    /// What is good already.
    pub good: List,
    /// Cautions.
    pub cautions: List,
    /// How numbers are to be read, and who made it.
    pub foot: Vec<String>,
}

/// A heading with paragraphs.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Part {
    /// Above the heading.
    pub kicker: String,
    /// The heading.
    pub heading: String,
    /// What follows.
    pub text: Vec<String>,
}

/// A heading with a list.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct List {
    /// The heading.
    pub heading: String,
    /// The list; may be empty.
    pub items: Vec<String>,
}

/// One picture.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SheetPicture {
    /// SVG with the photograph inside.
    pub svg: String,
    /// What it shows, for those who can't see it.
    pub words: String,
    /// The moment.
    pub title: String,
    /// Numbers under it.
    pub captions: Vec<String>,
}

/// A line of the key to the pictures.
#[derive(Clone, Debug, PartialEq)]
pub struct KeyLine {
    /// Its class in the style sheet: "before", "now" or "trunk-side".
    pub line: &'static str,
    /// Whether a ring ends it.
    pub ring: bool,
    /// What it is.
    pub says: Text,
}

/// The same in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SheetKeyLine {
    /// Its class in the style sheet.
    pub line: &'static str,
    /// Whether a ring ends it.
    pub ring: bool,
    /// What it is.
    pub says: String,
}

impl KeyLine {
    pub(crate) fn of(line: &'static str, says: Text) -> KeyLine {
        KeyLine {
            line,
            ring: false,
            says,
        }
    }
}

/// The goal.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SheetGoal {
    /// The heading.
    pub heading: String,
    /// Now and to reach: label, number, the rest.
    pub numbers: Vec<[String; 3]>,
    /// What the number is, or the checkpoint.
    pub says: String,
    /// Label and cue.
    pub cue: [String; 2],
    /// The cue for those who do better with one inside the body; may be empty.
    pub other_cue: String,
}

/// A drill's station.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SheetStation {
    /// SVG, and the same in words.
    pub drawing: [String; 2],
    /// What the numbers in it are.
    pub things: Vec<String>,
}

/// The drill.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SheetDrill {
    /// Its title.
    pub title: Part,
    /// What the drill looks like: three stills (SVG), and the same in words.
    pub figure: Option<[String; 2]>,
    /// What to lay out.
    pub set_up: List,
    /// What lies where, from above, where something lies on the ground.
    pub station: Option<SheetStation>,
    /// What to do.
    pub steps: List,
    /// Feel and dose: label and words.
    pub terms: Vec<[String; 2]>,
    /// From slow to the course.
    pub plan: List,
    /// Signs that it goes wrong.
    pub watch_for: List,
    /// The drill's own cautions.
    pub care: List,
}

/// The lesson for paper.
///
/// # Errors
/// As [`crate::lesson_page`].
pub fn lesson_sheet(content: &LessonContent) -> Result<LessonSheet, ReportError> {
    let page = LessonPage::new(content, QUALITY)?;
    let say = content.say;
    let one = match &page.outcome {
        Outcome::OneThing(one) => Some(one.as_ref()),
        _ => None,
    };
    Ok(LessonSheet {
        language: content.say.language.tag(),
        title: page.title(),
        academy: content.academy.clone(),
        heading: page.heading(),
        byline: page.byline(),
        sides: say.text(&page.sides()),
        note: content
            .coach_note
            .iter()
            .flat_map(|n| n.lines())
            .map(str::to_owned)
            .collect(),
        one_thing: about(&page),
        seen: say.text(&t("lesson-seen")),
        pictures: one.map_or_else(Vec::new, |one| pictures(&page, one)),
        key: one.map_or_else(Vec::new, |one| key(one, say)),
        why: one.map_or_else(List::default, |one| {
            list(say.text(&one.why_heading()), one.reasons())
        }),
        flight: one
            .and_then(|one| one.flight.as_ref())
            .map(|flight| [flight.alone(say), say.text(&flight.words)]),
        doubts: one.map_or_else(Vec::new, |one| {
            vec![[say.text(&t("lesson-sure")), say.text(&one.sure())]]
        }),
        goal: one.and_then(|one| Some(goal(one, one.goal.as_ref()?, say))),
        drill: one.map_or(Ok(None), |one| drill(&page, one))?,
        film: List {
            heading: say.text(&page.film_heading()),
            items: page.film_items(),
        },
        film_plan: [
            rendered(&page.film_plan, say),
            say.text(&page.film_plan.words()),
        ],
        good: list(
            say.text(&t("lesson-good")),
            page.good().into_iter().map(|row| row.in_a_line(say)),
        ),
        cautions: list(say.text(&t("lesson-cautions")), page.cautions()),
        foot: vec![say.text(&page.how_to_read()), page.made_by()],
    })
}

fn list<T: ToString>(heading: String, items: impl IntoIterator<Item = T>) -> List {
    List {
        heading,
        items: items.into_iter().map(|item| item.to_string()).collect(),
    }
}

fn about(page: &LessonPage<'_>) -> Part {
    let (kicker, heading, text) = page.one_thing();
    Part {
        kicker,
        heading,
        text,
    }
}

fn goal(one: &OneThing<'_>, goal: &Goal<'_>, say: Say) -> SheetGoal {
    let checkpoint = one.drill.map_or("", |drill| &drill.checkpoint);
    SheetGoal {
        heading: say.text(&goal.heading()),
        numbers: goal
            .number
            .as_ref()
            .map_or_else(Vec::new, |number| numbers(number, say)),
        says: match &goal.number {
            Some(number) => number.about(say),
            None => checkpoint.to_owned(),
        },
        cue: [say.text(&t("lesson-cue")), goal.prescription.cue.clone()],
        other_cue: one
            .drill
            .filter(|drill| !drill.cue_inward.is_empty())
            .map_or_else(String::new, |drill| {
                say.text(&t("lesson-other-cue").with("cue", &drill.cue_inward))
            }),
    }
}

/// Now, where it is known, and the number to reach.
fn numbers(number: &NumberToReach, say: Say) -> Vec<[String; 3]> {
    let now = number.now.as_ref().map(|(now, spread)| {
        let spread = spread
            .as_ref()
            .map_or_else(String::new, |s| format!(", {}", say.text(&s.text())));
        [
            say.text(&t("lesson-now")),
            say.text(&now.figure()),
            say.text(&now.rest()) + &spread,
        ]
    });
    let reach = [
        say.text(&t("lesson-reach")),
        say.text(&number.reach.figure()),
        say.text(&number.reach.rest()),
    ];
    now.into_iter().chain([reach]).collect()
}

fn drill(page: &LessonPage<'_>, one: &OneThing<'_>) -> Result<Option<SheetDrill>, ReportError> {
    let Some(drill) = one.drill else {
        return Ok(None);
    };
    let say = page.say();
    let figure = page.figure(&drill.title).map(|figure| figure.alone(say));
    let said = |id| say.text(&t(id));
    let dose = one.goal.as_ref().map_or("", |goal| &goal.prescription.dose);
    Ok(Some(SheetDrill {
        figure: figure.transpose()?,
        title: Part {
            kicker: said("lesson-drill"),
            heading: drill.title.clone(),
            text: vec![drill.changes.clone()],
        },
        set_up: list(said("lesson-set-up"), &drill.set_up),
        station: page.content.layout.as_ref().map(|layout| {
            let plan = StationPlan::new(layout, page.hand());
            SheetStation {
                drawing: plan.alone(say),
                things: plan.things(),
            }
        }),
        steps: list(said("lesson-steps"), &drill.steps),
        terms: vec![
            [said("lesson-feel"), drill.feel.clone()],
            [said("lesson-dose"), dose.to_owned()],
        ],
        plan: list(said("lesson-plan"), &drill.progressions),
        watch_for: list(said("lesson-watch-for"), &drill.watch_for),
        care: list(
            said("lesson-take-care"),
            drill.cautions.iter().chain(&drill.who_should_not),
        ),
    }))
}

fn pictures(page: &LessonPage<'_>, one: &OneThing<'_>) -> Vec<SheetPicture> {
    let say = page.say();
    one.pair
        .iter()
        .filter_map(|shot| {
            let all = page.strips.iter().flat_map(|strip| &strip.shots);
            let whole = all.into_iter().find(|s| s.id == shot.id)?;
            Some(SheetPicture {
                svg: drawing(shot, &whole.data),
                words: say.text(&shot.words()),
                title: capital(&say.text(&words::moment(shot.moment))),
                captions: shot
                    .captions
                    .iter()
                    .map(|c| say.text(&c.text()))
                    .chain((!shot.said.is_empty()).then(|| shot.said.clone()))
                    .collect(),
            })
        })
        .collect()
}

fn key(one: &OneThing<'_>, say: Say) -> Vec<SheetKeyLine> {
    let Some(first) = one.pair.first() else {
        return Vec::new();
    };
    let key = crate::page::Key::of(&one.pair);
    key.lines(&first.view)
        .into_iter()
        .map(|line| SheetKeyLine {
            line: line.line,
            ring: line.ring,
            says: say.text(&line.says),
        })
        .collect()
}

/// A photograph with what is drawn over it.
#[derive(Template)]
#[template(path = "drawing.svg", escape = "html")]
struct Drawing<'a> {
    width: usize,
    height: usize,
    data: &'a str,
    marks: Vec<Mark>,
}

/// A photograph that is in no strip, as a drawing of its own.
pub(crate) fn photograph(
    photo: &Photo,
    drawn: &Overlay,
    quality: u8,
) -> Result<String, ReportError> {
    let drawing = Drawing {
        width: photo.width,
        height: photo.height,
        data: &STANDARD.encode(photo.jpeg(quality)?),
        marks: marks(drawn, photo.width as f64),
    };
    Ok(drawing.render()?)
}

fn drawing(shot: &Shot, data: &str) -> String {
    let drawing = Drawing {
        width: shot.width,
        height: shot.height,
        data,
        marks: marks(&shot.drawn, shot.width as f64),
    };
    drawing.to_string()
}

impl Mark {
    fn paint(&self) -> String {
        let [red, green, blue, alpha] = self.colour;
        let colour = format!("#{red:02x}{green:02x}{blue:02x}");
        let opacity = f64::from(alpha) / 255.0;
        let Some(width) = self.width else {
            return format!("fill=\"{colour}\" fill-opacity=\"{opacity:.2}\"");
        };
        let dash = self.dash.map_or_else(String::new, |[dash, gap]| {
            format!(" stroke-dasharray=\"{dash:.1} {gap:.1}\"")
        });
        format!(
            "fill=\"none\" stroke=\"{colour}\" stroke-opacity=\"{opacity:.2}\" stroke-width=\"{width:.1}\" \
             stroke-linecap=\"round\"{dash}"
        )
    }

    fn path(&self) -> String {
        match self.shape {
            Shape::Line(a, b) => format!("M{:.1} {:.1}L{:.1} {:.1}", a.x, a.y, b.x, b.y),
            Shape::Triangle([a, b, c]) => format!(
                "M{:.1} {:.1}L{:.1} {:.1}L{:.1} {:.1}z",
                a.x, a.y, b.x, b.y, c.x, c.y
            ),
            // Two half circles (SVG 1.1, 8.3.8: an arc can't end where it starts).
            Shape::Circle(at, r) => format!(
                "M{:.1} {:.1}a{r:.1} {r:.1} 0 1 0 {:.1} 0a{r:.1} {r:.1} 0 1 0 {:.1} 0z",
                at.x - r,
                at.y,
                2.0 * r,
                -2.0 * r
            ),
        }
    }
}
