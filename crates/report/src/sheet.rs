//! The lesson for paper: the page's words as plain text and its pictures as drawings that stand alone, in the
//! order in which they are read. What sets it in type adds no words.

use crate::ReportError;
use crate::content::LessonContent;
use crate::headings;
use crate::marks::{Mark, Shape, marks};
use crate::overlay::Overlay;
use crate::page::{Goal, LessonPage, NumberToReach, OneThing, Outcome, Row, Shot};
use crate::photo::Photo;
use crate::plain::plain;
use crate::practice::StationPlan;
use askama::Template;
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde::Serialize;

/// JPEG quality on paper: a printer at 300 dots an inch shows what a screen does not.
const QUALITY: u8 = 86;

/// A lesson for paper.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LessonSheet {
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
    pub seen: &'static str,
    /// Before and at the moment of the finding.
    pub pictures: Vec<SheetPicture>,
    /// What the lines in them mean; empty without pictures.
    pub key: Vec<KeyLine>,
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
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct KeyLine {
    /// Its class in the style sheet: "before", "now" or "trunk-side".
    pub line: &'static str,
    /// Whether a ring ends it.
    pub ring: bool,
    /// What it is.
    pub says: &'static str,
}

impl KeyLine {
    pub(crate) fn of(line: &'static str, says: &'static str) -> KeyLine {
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
    let one = match &page.outcome {
        Outcome::OneThing(one) => Some(one.as_ref()),
        _ => None,
    };
    Ok(LessonSheet {
        title: page.title(),
        academy: content.academy.clone(),
        heading: page.heading(),
        byline: page.byline(),
        sides: page.sides().to_owned(),
        note: content
            .coach_note
            .iter()
            .flat_map(|n| n.lines())
            .map(str::to_owned)
            .collect(),
        one_thing: about(&page),
        seen: headings::SEEN,
        pictures: one.map_or_else(Vec::new, |one| pictures(&page, one)),
        key: one.map_or_else(Vec::new, key),
        why: one.map_or_else(List::default, |one| list(one.why_heading(), one.reasons())),
        flight: one
            .and_then(|one| one.flight.as_ref())
            .map(|flight| [flight.alone(), flight.words.clone()]),
        doubts: one.map_or_else(Vec::new, |one| {
            vec![["How sure are we?".to_owned(), one.sure().to_owned()]]
        }),
        goal: one.and_then(|one| Some(goal(one, one.goal.as_ref()?))),
        drill: one.map_or(Ok(None), |one| drill(&page, one))?,
        film: List {
            heading: page.film_heading().to_owned(),
            items: page.film_items(),
        },
        film_plan: [page.film_plan.render()?, page.film_plan.words()],
        good: list(headings::GOOD, page.good().into_iter().map(good)),
        cautions: list(headings::CAUTIONS, page.cautions()),
        foot: vec![page.how_to_read().to_owned(), page.made_by()],
    })
}

fn list<T: ToString>(heading: &str, items: impl IntoIterator<Item = T>) -> List {
    List {
        heading: heading.to_owned(),
        items: items.into_iter().map(|item| item.to_string()).collect(),
    }
}

fn about(page: &LessonPage<'_>) -> Part {
    let (kicker, heading, text) = page.one_thing();
    Part {
        kicker: kicker.to_owned(),
        heading: heading.to_owned(),
        text,
    }
}

fn goal(one: &OneThing<'_>, goal: &Goal<'_>) -> SheetGoal {
    let checkpoint = one.drill.map_or("", |drill| &drill.checkpoint);
    SheetGoal {
        heading: goal.heading().to_owned(),
        numbers: goal.number.as_ref().map_or_else(Vec::new, numbers),
        says: match &goal.number {
            Some(number) => plain(&number.about()),
            None => checkpoint.to_owned(),
        },
        cue: [headings::CUE.to_owned(), goal.prescription.cue.clone()],
        other_cue: one
            .drill
            .filter(|drill| !drill.cue_inward.is_empty())
            .map_or_else(String::new, |drill| headings::other_cue(&drill.cue_inward)),
    }
}

/// Now, where it is known, and the number to reach.
fn numbers(number: &NumberToReach) -> Vec<[String; 3]> {
    let now = number.now.as_ref().map(|(now, spread)| {
        let spread = spread
            .as_ref()
            .map_or_else(String::new, |s| format!(", {}", plain(s)));
        let (digits, rest) = digits_and_rest(&plain(now));
        ["Now".to_owned(), digits, rest + &spread]
    });
    let (digits, rest) = digits_and_rest(&plain(&number.reach));
    now.into_iter()
        .chain([["Reach".to_owned(), digits, rest]])
        .collect()
}

/// "4.1 cm" and "(1.6 in) toward the target": number and unit are joined by a space that does not break.
fn digits_and_rest(amount: &str) -> (String, String) {
    let (digits, rest) = amount.split_once(' ').unwrap_or((amount, ""));
    (digits.to_owned(), rest.to_owned())
}

fn drill(page: &LessonPage<'_>, one: &OneThing<'_>) -> Result<Option<SheetDrill>, ReportError> {
    let Some(drill) = one.drill else {
        return Ok(None);
    };
    let figure = page.figure(&drill.title).map(|figure| figure.alone());
    let dose = one.goal.as_ref().map_or("", |goal| &goal.prescription.dose);
    Ok(Some(SheetDrill {
        figure: figure.transpose()?,
        title: Part {
            kicker: headings::DRILL.to_owned(),
            heading: drill.title.clone(),
            text: vec![drill.changes.clone()],
        },
        set_up: list(headings::SET_UP, &drill.set_up),
        station: page.content.layout.as_ref().map(|layout| {
            let plan = StationPlan::new(layout, page.hand());
            SheetStation {
                drawing: plan.alone(),
                things: plan.things(),
            }
        }),
        steps: list(headings::STEPS, &drill.steps),
        terms: vec![
            [headings::FEEL.to_owned(), drill.feel.clone()],
            [headings::DOSE.to_owned(), dose.to_owned()],
        ],
        plan: list(headings::PLAN, &drill.progressions),
        watch_for: list(headings::WATCH_FOR, &drill.watch_for),
        care: list(
            headings::TAKE_CARE,
            drill.cautions.iter().chain(&drill.who_should_not),
        ),
    }))
}

/// "Trail elbow, lead arm level, coming down: 4.6 cm ahead of the middle of the side."
fn good(row: &Row<'_>) -> String {
    plain(&row.in_a_line())
}

fn pictures(page: &LessonPage<'_>, one: &OneThing<'_>) -> Vec<SheetPicture> {
    one.pair
        .iter()
        .filter_map(|shot| {
            let all = page.strips.iter().flat_map(|strip| &strip.shots);
            let whole = all.into_iter().find(|s| s.id == shot.id)?;
            Some(SheetPicture {
                svg: drawing(shot, &whole.data),
                words: shot.words(),
                title: shot.title(),
                captions: shot
                    .captions
                    .iter()
                    .map(|c| plain(&c.in_a_line()))
                    .chain((!shot.said.is_empty()).then(|| shot.said.clone()))
                    .collect(),
            })
        })
        .collect()
}

fn key(one: &OneThing<'_>) -> Vec<KeyLine> {
    let Some(first) = one.pair.first() else {
        return Vec::new();
    };
    let key = crate::page::Key::of(&one.pair);
    key.lines(&first.view)
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
