//! The drill book: one Markdown page a drill, its facts in TOML front matter.
//!
//! ```text
//! +++
//! title = "…"
//! measure = "pelvis_shift"        # what it moves, when, against which moment, by how much
//! …
//! +++
//! ## Set-up
//! - …
//! ```
//!
//! The sections are Set-up, Steps, Feel, Watch for and Cautions, in this order. Texts may hold
//! `{lead}` and `{trail}`, which become left or right. The key is the file's name. Expected
//! changes are in the measure's unit and sign, over one to two weeks: a teacher's expectation,
//! not a published figure.

use crate::care::{Care, Dose};
use crate::data_error::DataError;
use crate::flight::Flight;
use crate::wording::{Filling, Placeholders, check_template};
use lessonwright_model::{Drill, Hand, MeasureName, MomentName};
use serde::Deserialize;

/// All drills at hand.
#[derive(Clone, Debug, PartialEq)]
pub struct DrillBook(Vec<DrillPage>);

/// One drill, not yet worded for a hand.
#[derive(Clone, Debug, PartialEq)]
pub struct DrillPage {
    key: String,
    facts: Facts,
    set_up: Vec<String>,
    steps: Vec<String>,
    feel: String,
    watch_for: Vec<String>,
    cautions: Vec<String>,
}

/// The front matter.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Facts {
    title: String,
    changes: String,
    measure: MeasureName,
    moment: MomentName,
    against: Option<MomentName>,
    expected_change: f64,
    /// Flights it is known to help with: it comes first for these.
    flights: Vec<Flight>,
    /// Flights it would make worse: it is left out for these.
    #[serde(default)]
    not_for: Vec<Flight>,
    /// The cue to keep in mind: something outside the body where that can be said.
    cue: String,
    dose: Dose,
}

macro_rules! pages {
    ($($key:literal),+ $(,)?) => {
        &[$(($key, include_str!(concat!("../data/drills/", $key, ".md")))),+]
    };
}

/// In the order of the alphabet.
const STANDARD: &[(&str, &str)] = pages![
    "brush_ahead_of_the_line",
    "bump_the_stick",
    "chest_keeps_going",
    "do_not_run_over_the_post",
    "elbow_off_the_wall",
    "gate_for_the_slice",
    "hip_to_the_wall",
    "hold_the_finish",
    "knees_over_the_line",
    "lead_knee_to_the_laces",
    "pause_and_press",
    "seam_of_the_shirt",
    "skim_a_stone",
    "step_into_it",
    "swing_on_the_breath",
    "three_beats_back",
    "trail_hand_only",
    "trail_heel_down",
    "trail_knee_behind_the_line",
    "turn_your_back_first",
    "wedge_under_trail_foot",
];

impl DrillBook {
    /// The project's drills.
    ///
    /// # Panics
    /// Never with the embedded pages, which a test reads.
    pub fn standard() -> DrillBook {
        STANDARD
            .iter()
            .fold(DrillBook(Vec::new()), |book, (key, text)| {
                book.with(key, text)
                    .unwrap_or_else(|error| panic!("the embedded drills are sound: {error}"))
            })
    }

    /// This book with one more page, or with the page of that key replaced.
    ///
    /// # Errors
    /// When the page is incomplete or has an unknown placeholder.
    pub fn with(mut self, key: &str, text: &str) -> Result<DrillBook, DataError> {
        let page = DrillPage::parse(key, text)?;
        self.0.retain(|other| other.key != key);
        self.0.push(page);
        Ok(self)
    }

    /// The page of a key.
    pub fn page(&self, key: &str) -> Option<&DrillPage> {
        self.0.iter().find(|page| page.key == key)
    }

    /// All pages.
    pub fn pages(&self) -> impl Iterator<Item = &DrillPage> {
        self.0.iter()
    }
}

impl DrillPage {
    /// Reads one page.
    ///
    /// # Errors
    /// When the front matter or a section is missing or empty, a text has an unknown placeholder,
    /// or the expected change is zero or not finite.
    pub fn parse(key: &str, text: &str) -> Result<DrillPage, DataError> {
        let file = format!("{key}.md");
        let text = text.replace("\r\n", "\n");
        let (front, body) = text
            .strip_prefix("+++\n")
            .and_then(|rest| rest.split_once("\n+++\n"))
            .ok_or_else(|| {
                DataError::content(
                    &file,
                    "front matter",
                    "start the page with TOML between +++ lines",
                )
            })?;
        let facts: Facts =
            toml::from_str(front).map_err(|error| DataError::syntax(&file, error))?;
        let [set_up, steps, feel, watch_for, cautions] =
            sections(body).map_err(|(place, problem)| DataError::content(&file, place, problem))?;
        let page = DrillPage {
            key: key.into(),
            facts,
            set_up,
            steps,
            feel: feel.join(" "),
            watch_for,
            cautions,
        };
        page.check()
            .map_err(|problem| DataError::content(&file, "text", problem))?;
        Ok(page)
    }

    /// The key.
    pub fn key(&self) -> &str {
        &self.key
    }

    /// The dose of a healthy adult.
    pub fn dose(&self) -> &Dose {
        &self.facts.dose
    }

    /// Whether it is known to help with a flight.
    pub fn helps_with(&self, flight: Flight) -> bool {
        self.facts.flights.contains(&flight)
    }

    /// Whether it would make a flight worse.
    pub fn harms(&self, flight: Flight) -> bool {
        self.facts.not_for.contains(&flight)
    }

    /// The cue, worded for a hand.
    pub fn cue(&self, hand: Hand) -> String {
        Filling::of(hand).fill(&self.facts.cue)
    }

    /// The drill, worded for a hand and with the dose for this care.
    pub fn worded(&self, hand: Hand, care: &Care) -> Drill {
        let words = Filling::of(hand);
        let fill = |text: &String| words.fill(text);
        let fill_all = |texts: &[String]| texts.iter().map(fill).collect();
        Drill {
            key: self.key.clone(),
            title: fill(&self.facts.title),
            changes: fill(&self.facts.changes),
            set_up: fill_all(&self.set_up),
            steps: fill_all(&self.steps),
            feel: fill(&self.feel),
            watch_for: fill_all(&self.watch_for),
            cautions: fill_all(&self.cautions),
            dose: self.facts.dose.say(care),
            measure: self.facts.measure,
            moment: self.facts.moment,
            against: self.facts.against,
            expected_change: self.facts.expected_change,
        }
    }

    fn check(&self) -> Result<(), String> {
        let facts = &self.facts;
        let texts = [
            &facts.title,
            &facts.changes,
            &facts.cue,
            &facts.dose.how,
            &self.feel,
        ];
        let lists = [&self.set_up, &self.steps, &self.watch_for, &self.cautions];
        for text in texts.into_iter().chain(lists.into_iter().flatten()) {
            check_template(text, Placeholders::Sides)?;
        }
        if !facts.expected_change.is_finite() || facts.expected_change == 0.0 {
            return Err("expected_change must be a number other than zero".into());
        }
        if facts.dose.swings_a_week() == 0 {
            return Err("the dose must have rounds, swings and days".into());
        }
        Ok(())
    }
}

const HEADINGS: [&str; 5] = ["Set-up", "Steps", "Feel", "Watch for", "Cautions"];

/// The items under each heading: list items, or the lines of a paragraph, joined.
fn sections(body: &str) -> Result<[Vec<String>; 5], (String, String)> {
    let mut found: [Vec<String>; 5] = Default::default();
    let mut current = None;
    for line in body.lines() {
        if let Some(heading) = line.strip_prefix("## ") {
            let next = HEADINGS.iter().position(|known| *known == heading.trim());
            if next.is_none() || next <= current {
                let expected = HEADINGS.join(", ");
                return Err((
                    heading.into(),
                    format!("the headings are {expected}, in this order"),
                ));
            }
            current = next;
            continue;
        }
        let text = line.trim();
        if text.is_empty() {
            continue;
        }
        let Some(section) = current else {
            return Err((
                text.into(),
                "text before the first heading: move it below one".into(),
            ));
        };
        match (list_item(text), found[section].last_mut()) {
            (Some(item), _) => found[section].push(item.into()),
            (None, Some(item)) => {
                item.push(' ');
                item.push_str(text);
            }
            (None, None) => found[section].push(text.into()),
        }
    }
    match found.iter().position(Vec::is_empty) {
        Some(empty) => Err((
            HEADINGS[empty].into(),
            "this section is missing or empty".into(),
        )),
        None => Ok(found),
    }
}

/// The text after "- " or "3. ".
fn list_item(line: &str) -> Option<&str> {
    if let Some(item) = line.strip_prefix("- ") {
        return Some(item);
    }
    let (number, item) = line.split_once(". ")?;
    number.chars().all(|c| c.is_ascii_digit()).then_some(item)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::care::MOST_SWINGS_A_SESSION;
    use crate::causes::{CauseTable, Outside};

    #[test]
    fn every_file_of_the_folder_is_in_the_book() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/data/drills");
        let mut files: Vec<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|entry| {
                entry
                    .unwrap()
                    .path()
                    .file_stem()
                    .unwrap()
                    .to_str()
                    .unwrap()
                    .to_string()
            })
            .collect();
        files.sort();
        let keys: Vec<String> = DrillBook::standard()
            .pages()
            .map(|p| p.key().into())
            .collect();
        assert_eq!(keys, files);
        assert!(keys.len() >= 12);
    }

    #[test]
    fn every_drill_answers_a_body_fact_and_moves_its_measure_toward_the_band() {
        let (book, causes) = (DrillBook::standard(), CauseTable::standard());
        for page in book.pages() {
            let answers: Vec<_> = causes
                .bodies()
                .iter()
                .filter(|body| body.drills.contains(&page.key) || page.answers_by_measure(body))
                .collect();
            assert!(!answers.is_empty(), "{} answers nothing", page.key);
        }
        for body in causes.bodies() {
            assert!(!body.drills.is_empty(), "{}", body.key);
            for key in &body.drills {
                let page = book
                    .page(key)
                    .unwrap_or_else(|| panic!("{key} has no page"));
                assert!(
                    page.answers_by_measure(body),
                    "{key} does not answer {}",
                    body.key
                );
            }
        }
    }

    impl DrillPage {
        fn answers_by_measure(&self, body: &crate::causes::BodyFact) -> bool {
            let facts = &self.facts;
            let toward = match body.outside {
                Outside::Below => facts.expected_change > 0.0,
                Outside::Above => facts.expected_change < 0.0,
            };
            toward
                && (facts.measure, facts.moment, facts.against)
                    == (body.measure, body.moment, body.against)
        }
    }

    #[test]
    fn doses_keep_to_one_short_block() {
        for page in DrillBook::standard().pages() {
            let dose = page.dose();
            assert!(
                dose.rounds * dose.swings <= MOST_SWINGS_A_SESSION,
                "{}",
                page.key
            );
            assert!(dose.days_a_week <= 5 && dose.rest_s >= 30, "{}", page.key);
        }
    }

    #[test]
    fn slice_and_hook_have_drills_of_their_own() {
        let book = DrillBook::standard();
        for flight in [Flight::Slice, Flight::Hook] {
            assert!(
                book.pages().filter(|page| page.helps_with(flight)).count() >= 3,
                "{flight:?}"
            );
        }
    }

    #[test]
    fn no_drill_both_helps_and_harms_a_flight() {
        for page in DrillBook::standard().pages() {
            for flight in &page.facts.flights {
                assert!(!page.harms(*flight), "{} {flight:?}", page.key);
            }
        }
    }

    #[test]
    fn a_bad_page_says_what_and_where() {
        let good = STANDARD[0].1;
        let cases = [
            (good.replace("+++", "---"), "front matter"),
            (good.replace("## Cautions", "## Warnings"), "Warnings"),
            (good.replace("## Feel", "## Steps"), "order"),
            (
                good.split("## Cautions").next().unwrap().to_string(),
                "Cautions",
            ),
            (
                good.replace("expected_change = 1.5", "expected_change = 0.0"),
                "zero",
            ),
            (good.replace("The head moves", "The {head} moves"), "{head}"),
            (good.replace("title =", "name ="), "name"),
        ];
        for (text, says) in cases {
            let error = DrillPage::parse("mine", &text).unwrap_err().to_string();
            assert!(
                error.contains("mine.md") && error.contains(says),
                "{says}: {error}"
            );
        }
    }

    #[test]
    fn an_own_page_replaces_the_one_of_its_key() {
        let book = DrillBook::standard();
        let own = STANDARD[0].1.replace("Brush ahead of the line", "Mine");
        let count = book.pages().count();
        let book = book.with("brush_ahead_of_the_line", &own).unwrap();
        let drill = book
            .page("brush_ahead_of_the_line")
            .unwrap()
            .worded(Hand::Right, &Care::Full);
        assert_eq!(
            (drill.title.as_str(), book.pages().count()),
            ("Mine", count)
        );
    }
}
