//! The drill book: the project's pages, and the professional's own in place of them or beside them.
//!
//! How a page is written is said in [`page`].

mod figures;
mod page;
mod sections;
mod words;

pub use figures::{FigureError, Figures};
pub use page::DrillPage;
pub use words::DrillWords;

use crate::causes::{BodyFact, CauseTable};
use crate::data_error::DataError;
use lessonwright_language::Language;

/// All drills at hand.
#[derive(Clone, Debug, PartialEq)]
pub struct DrillBook(Vec<DrillPage>);

/// A drill of the project's.
struct Standard {
    key: &'static str,
    text: &'static str,
    german: &'static str,
    stills: &'static [u8],
    moving: &'static [u8],
}

macro_rules! drills {
    ($($key:literal),+ $(,)?) => {
        &[$(Standard {
            key: $key,
            text: include_str!(concat!("../../data/drills/", $key, ".md")),
            german: include_str!(concat!("../../data/de/drills/", $key, ".md")),
            stills: include_bytes!(concat!("../../data/figures/", $key, ".jpg")),
            moving: include_bytes!(concat!("../../data/figures/", $key, ".webp")),
        }),+]
    };
}

/// In the order of the alphabet.
const STANDARD: &[Standard] = drills![
    "ball_between_the_knees",
    "ball_ladder",
    "brush_ahead_of_the_line",
    "bump_the_stick",
    "button_over_the_back_knee",
    "cap_under_the_branch",
    "chest_carries_the_hands",
    "chest_keeps_going",
    "clap_and_close",
    "do_not_run_over_the_post",
    "drag_the_rope",
    "elbow_off_the_wall",
    "face_to_the_spine",
    "feet_together_then_apart",
    "gate_for_the_slice",
    "hand_from_the_thigh",
    "handle_stick_past_the_hip",
    "hands_past_the_towel",
    "handshake_back_and_through",
    "hip_to_the_wall",
    "hold_the_finish",
    "hum_to_the_top",
    "knees_over_the_line",
    "knuckle_count",
    "lead_knee_to_the_laces",
    "lift_the_front_heel",
    "logo_away",
    "logo_to_the_target",
    "pause_and_press",
    "pocket_goes_back",
    "pocket_pump",
    "push_the_box_back",
    "rails_to_the_target",
    "ribbon_on_the_stick",
    "rock_and_settle",
    "row_of_tees",
    "ruler_under_the_strap",
    "seam_of_the_shirt",
    "seat_on_the_wall",
    "seat_to_the_wall_set_up",
    "shadow_of_the_head",
    "skim_a_stone",
    "step_into_it",
    "stick_along_the_back",
    "stick_outside_the_back_hip",
    "stop_where_it_is_long",
    "swing_on_the_breath",
    "tall_to_the_mirror",
    "three_beats_back",
    "throw_under_the_rope",
    "tilt_against_the_door",
    "toe_up_to_toe_up",
    "toes_up",
    "towel_on_the_chair",
    "towel_under_both_arms",
    "trail_hand_only",
    "trail_hand_to_the_knee",
    "trail_heel_down",
    "trail_knee_behind_the_line",
    "turn_between_two_walls",
    "turn_your_back_first",
    "two_clubs_check",
    "two_tees_one_strike",
    "walk_after_it",
    "wedge_under_trail_foot",
    "wide_past_the_ball",
    "wide_to_the_wall",
];

/// Fewest drills of a body fact, so that a player for whom one does not work has another.
const FEWEST: usize = 2;

impl DrillBook {
    /// The project's drills.
    ///
    /// # Panics
    /// Never with the embedded pages, which a test reads.
    pub fn standard() -> DrillBook {
        STANDARD.iter().fold(DrillBook(Vec::new()), |book, drill| {
            book.with(drill.key, drill.text)
                .and_then(|book| book.with_words(Language::German, drill.key, drill.german))
                .unwrap_or_else(|error| panic!("the embedded drills are sound: {error}"))
        })
    }

    /// This book with one more page, or with the page of that key replaced, in the order of the alphabet.
    ///
    /// # Errors
    /// As [`DrillPage::parse`].
    pub fn with(mut self, key: &str, text: &str) -> Result<DrillBook, DataError> {
        let page = DrillPage::parse(key, text)?;
        match self.0.binary_search_by(|other| other.key().cmp(key)) {
            // The same page keeps its words in other languages; those of another page would not be its own.
            Ok(at) if self.0[at].text() == page.text() => {}
            Ok(at) => self.0[at] = page,
            Err(at) => self.0.insert(at, page),
        }
        Ok(self)
    }

    /// This book with the words of one of its pages in another language.
    ///
    /// # Errors
    /// When there is no such page, the words can't be read, or they do not fit the page: another count of items, other
    /// numbers.
    pub fn with_words(
        mut self,
        language: Language,
        key: &str,
        text: &str,
    ) -> Result<DrillBook, DataError> {
        let file = format!("{}/{key}.md", language.tag());
        let at = self.0.iter().position(|page| page.key() == key);
        let at = at.ok_or_else(|| {
            let problem = "there is no page of this key in English: write that first";
            DataError::content(&file, "file name", problem.to_owned())
        })?;
        let page = self.0[at].clone().with_words(language, &file, text)?;
        self.0[at] = page;
        Ok(self)
    }

    /// The book said in a language: a page without words in it is English, and says so.
    pub fn in_language(mut self, language: Language) -> DrillBook {
        for page in &mut self.0 {
            page.say_in(language);
        }
        self
    }

    /// The page of a key.
    pub fn page(&self, key: &str) -> Option<&DrillPage> {
        self.0.iter().find(|page| page.key() == key)
    }

    /// All pages, in the order of the alphabet.
    pub fn pages(&self) -> impl Iterator<Item = &DrillPage> {
        self.0.iter()
    }

    /// The drills of a body fact, best first: those that the causes name, then those that name the fact.
    pub fn drills_of(&self, body: &BodyFact) -> Vec<&DrillPage> {
        let named = body.drills.iter().filter_map(|key| self.page(key));
        let naming = self.pages().filter(|page| {
            page.is_for().contains(&body.key) && !body.drills.iter().any(|key| key == page.key())
        });
        named.chain(naming).collect()
    }

    /// Looks whether book and causes fit; `file` names the causes in errors.
    ///
    /// # Errors
    /// When a body fact names a drill that has no page or that does not move its measure toward its range, or
    /// fewer than two; or when a page is not for a limit that the causes do not know.
    pub fn check_with(&self, file: &str, causes: &CauseTable) -> Result<(), DataError> {
        for body in causes.bodies() {
            let fault = |problem: String| {
                let place = format!("body {}", body.key);
                Err(DataError::content(file, place, problem))
            };
            if let Some(key) = body.drills.iter().find(|key| self.page(key).is_none()) {
                return fault(format!(
                    "names the drill \"{key}\", which has no page: correct the key or write {key}.md"
                ));
            }
            let drills = self.drills_of(body);
            if drills.len() < FEWEST {
                return fault(format!("has fewer than {FEWEST} drills: name another"));
            }
            if let Some(page) = drills.iter().find(|page| !page.answers(body)) {
                return fault(format!(
                    "has the drill {}, which does not move its measure toward the range: add the \
                     measure to the page's [[moves]], or take the drill out",
                    page.key()
                ));
            }
        }
        self.pages().try_for_each(|page| check_keys(page, causes))
    }
}

/// A page may name limits and body facts of the causes only.
fn check_keys(page: &DrillPage, causes: &CauseTable) -> Result<(), DataError> {
    let fault = |place: &str, problem: String| {
        Err(DataError::content(
            &format!("{}.md", page.key()),
            place,
            problem,
        ))
    };
    let known = |limit: &&String| causes.limits().iter().any(|l| l.key == **limit);
    if let Some(limit) = page.not_with().iter().find(|limit| !known(limit)) {
        let problem = format!("there is no limit \"{limit}\" in the causes: correct the key");
        return fault("not_with", problem);
    }
    match page.is_for().iter().find(|key| causes.body(key).is_none()) {
        Some(key) => fault(
            "answers",
            format!("there is no body fact \"{key}\" in the causes: correct the key"),
        ),
        None => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::care::{Care, MOST_SWINGS_A_SESSION};
    use crate::flight::Flight;
    use lessonwright_model::Hand;

    #[test]
    fn every_file_of_the_folder_is_in_the_book() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/data/drills");
        let files = std::fs::read_dir(folder).unwrap();
        let mut files: Vec<String> = files
            .map(|entry| entry.unwrap().path())
            .map(|path| path.file_stem().unwrap().to_str().unwrap().to_string())
            .collect();
        files.sort();
        let keys: Vec<String> = DrillBook::standard()
            .pages()
            .map(|p| p.key().into())
            .collect();
        assert_eq!(keys, files);
        assert!(keys.len() >= 44, "{}", keys.len());
    }

    #[test]
    fn book_and_causes_fit_and_every_drill_answers_something() {
        let (book, causes) = (DrillBook::standard(), CauseTable::standard());
        book.check_with("causes.toml", &causes).unwrap();
        for page in book.pages() {
            let of = |body: &BodyFact| book.drills_of(body).iter().any(|p| p.key() == page.key());
            assert!(
                causes.bodies().iter().any(of),
                "{} answers nothing",
                page.key()
            );
        }
    }

    #[test]
    fn what_does_not_fit_is_said() {
        let causes = |from: &str, to: &str| {
            let text = CauseTable::standard_toml();
            assert!(text.contains(from), "{from}");
            CauseTable::parse("own.toml", &text.replacen(from, to, 1)).unwrap()
        };
        let book = DrillBook::standard();
        let toes = book.page("toes_up").unwrap().text();
        let forbidden = toes.replacen("[cue]", "not_with = [\"nobody\"]\n[cue]", 1);
        let drills = "drills = [\"rock_and_settle\", \"toes_up\"]";
        let cases = [
            (
                book.clone(),
                causes("\"toes_up\"]", "\"toes_down\"]"),
                "toes_down.md",
            ),
            (
                book.clone(),
                causes(drills, "drills = [\"toes_up\"]"),
                "fewer",
            ),
            (
                book.clone(),
                causes("[\"hold_the_finish\"", "[\"toes_up\""),
                "moves",
            ),
            (
                book.clone().with("toes_up", &forbidden).unwrap(),
                CauseTable::standard(),
                "\"nobody\"",
            ),
        ];
        for (book, causes, says) in cases {
            let error = book.check_with("own.toml", &causes).unwrap_err();
            assert!(error.to_string().contains(says), "{says}: {error}");
        }
    }

    #[test]
    fn doses_keep_to_one_short_block() {
        for page in DrillBook::standard().pages() {
            let dose = page.dose();
            let swings = dose.rounds * dose.swings;
            assert!(swings <= MOST_SWINGS_A_SESSION, "{}", page.key());
            assert!(dose.days_a_week <= 5 && dose.rest_s >= 30, "{}", page.key());
        }
    }

    #[test]
    fn the_flights_players_complain_of_have_drills_of_their_own() {
        let book = DrillBook::standard();
        for flight in [
            Flight::Slice,
            Flight::Hook,
            Flight::Fat,
            Flight::Thin,
            Flight::Shank,
        ] {
            let helping = book.pages().filter(|page| page.helps_with(flight)).count();
            assert!(helping >= 3, "{flight:?}: {helping}");
        }
    }

    #[test]
    fn a_bad_page_says_what_and_where() {
        let good = STANDARD
            .iter()
            .find(|drill| drill.key == "brush_ahead_of_the_line")
            .unwrap()
            .text;
        let cases = [
            (good.replace("+++", "---"), "front matter"),
            (good.replace("## Cautions", "## Warnings"), "Warnings"),
            (good.replace("## Feel", "## Steps"), "order"),
            (
                good.split("## Who").next().unwrap().to_string(),
                "Who should not",
            ),
            (good.replace("by = 1.5", "by = 0.0"), "zero"),
            (good.replace("The head moves", "The {head} moves"), "{head}"),
            (good.replace("title =", "name ="), "name"),
            (good.replace("- Half: ", "- Middle: "), "\"Half: \""),
            (
                good.replace("8 of 10", "most").replace(" (8 cm, 3 in)", ""),
                "number",
            ),
            (
                good.replace("flights = [", "not_for = [\"fat\"]\nflights = ["),
                "keep one",
            ),
        ];
        for (text, says) in cases {
            let error = DrillPage::parse("mine", &text).unwrap_err().to_string();
            assert!(
                error.contains("mine.md") && error.contains(says),
                "{says}: {error}"
            );
        }
        let error = DrillPage::parse("../mine", good).unwrap_err().to_string();
        assert!(
            error.contains("file name") && error.contains("underscores"),
            "{error}"
        );
    }

    #[test]
    fn an_own_page_replaces_the_one_of_its_key_and_a_new_one_is_added() {
        let book = DrillBook::standard();
        let Standard { key, text, .. } = STANDARD[0];
        let count = book.pages().count();
        let title = book
            .page(key)
            .unwrap()
            .worded(Hand::Right, &Care::Full)
            .title;
        let own = text.replace(&title, "Mine");
        let book = book.with(key, &own).unwrap();
        let drill = book.page(key).unwrap().worded(Hand::Right, &Care::Full);
        assert_eq!(
            (drill.title.as_str(), book.pages().count()),
            ("Mine", count)
        );
        let book = book.with("zz_mine", text).unwrap();
        assert_eq!(book.pages().last().unwrap().key(), "zz_mine");
        assert_eq!(book.page("zz_mine").unwrap().text(), text);
        let causes = CauseTable::standard();
        let mine = text.replacen("[cue]", "answers = [\"grip_weak\"]\n[cue]", 1);
        let book = book.with("zz_mine", &mine).unwrap();
        book.check_with("causes.toml", &causes).unwrap();
        let drills = book.drills_of(causes.body("grip_weak").unwrap());
        assert_eq!(drills.last().unwrap().key(), "zz_mine");
        let wrong = mine.replace("grip_weak", "grip_week");
        let error = book
            .with("zz_mine", &wrong)
            .unwrap()
            .check_with("causes.toml", &causes);
        assert!(error.unwrap_err().to_string().contains("grip_week"));
    }
}
