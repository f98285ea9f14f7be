//! The pages as structs.

use super::language::Offer;
use askama::Template;
use lessonwright_language::{Text, filters};
use lessonwright_store::{PlayerStorage, Storage};

/// The page "Studio".
#[derive(Template)]
#[template(path = "keeping.html")]
pub struct KeepingPage {
    pub academy: String,
    /// Percent of a backup under way.
    pub share: Option<u32>,
    /// Why the last backup failed.
    pub failed: Option<Text>,
    /// The file of the last backup made here.
    pub last: Option<String>,
    /// What lies on the disk; none until it was counted once.
    pub sums: Option<Sums>,
    /// That it is being counted again.
    pub counting: Option<Text>,
    pub camera: &'static str,
    pub languages: Vec<Offer>,
}

/// What lies on the disk, in words.
pub struct Sums {
    pub rows: Vec<Row>,
    /// How many players there are.
    pub players: usize,
    pub database: Text,
    pub landmarks: Text,
    pub pictures: Text,
    pub all: Text,
}

impl Sums {
    /// With these players' rows.
    pub fn of(storage: &Storage, rows: Vec<Row>) -> Sums {
        Sums {
            rows,
            players: storage.players.len(),
            database: size(storage.database_bytes),
            landmarks: size(storage.landmarks_bytes),
            pictures: size(storage.pictures_bytes()),
            all: size(storage.bytes()),
        }
    }
}

/// A player's storage, in words.
pub struct Row {
    pub id: i64,
    pub name: String,
    pub swings: usize,
    pub clips: Text,
    pub lessons: Text,
    pub films: Text,
    pub pictures: Text,
    pub all: Text,
}

impl Row {
    pub fn of(player: &PlayerStorage) -> Row {
        Row {
            id: player.id,
            name: player.name.clone(),
            swings: player.swings,
            clips: size(player.clips_bytes),
            lessons: size(player.papers_bytes + player.pages_bytes),
            films: size(player.films_bytes),
            pictures: size(player.pictures_bytes),
            all: size(player.files_bytes() + player.pages_bytes),
        }
    }
}

/// Asks before a player is erased.
#[derive(Template)]
#[template(path = "keeping_erase.html")]
pub struct ErasePage {
    pub id: i64,
    pub name: String,
    /// What would go.
    pub what: Text,
    /// The name typed was another one.
    pub wrong: bool,
}

/// What was done, or why not.
#[derive(Template)]
#[template(path = "keeping_said.html")]
pub struct SaidPage {
    pub title: Text,
    pub text: Text,
}

/// "1.2 MB"; steps of a thousand, as disks are sold.
pub fn size(bytes: u64) -> Text {
    const UNITS: [&str; 5] = ["B", "kB", "MB", "GB", "TB"];
    let (mut number, mut unit) = (bytes as f64, 0);
    while number >= 999.5 && unit + 1 < UNITS.len() {
        number /= 1000.0;
        unit += 1;
    }
    match unit == 0 || number >= 99.5 {
        true => Text::figure(format!("{number:.0} {}", UNITS[unit])),
        false => Text::figure(format!("{number:.1} {}", UNITS[unit])),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::in_english;
    use lessonwright_language::{Say, t};

    #[test]
    fn what_is_not_counted_yet_is_asked_for_again() {
        let page = |sums, counting| KeepingPage {
            academy: String::new(),
            share: None,
            failed: None,
            last: None,
            sums,
            counting,
            camera: "/studio/camera",
            languages: Vec::new(),
        };
        let shown = |page: KeepingPage| in_english(|| Say::default().render(&page).unwrap());
        let (counting, counted) = ("data-counting", "All together");
        let first = shown(page(None, Some(t("keeping-counting"))));
        assert!(
            first.contains(counting) && !first.contains(counted),
            "{first}"
        );
        assert!(first.contains("<a href=\"/studio#storage\">Look again</a>"));
        let sums = || Some(Sums::of(&Storage::default(), Vec::new()));
        let old = t("keeping-counting-again").with("at", "25 November 2026, 09:00");
        let again = shown(page(sums(), Some(old)));
        assert!(
            again.contains(counting) && again.contains(counted),
            "{again}"
        );
        let ready = shown(page(sums(), None));
        assert!(
            !ready.contains(counting) && ready.contains(counted),
            "{ready}"
        );
    }

    #[test]
    fn sizes_are_said_in_steps_of_a_thousand() {
        for (bytes, said) in [
            (0, "0 B"),
            (999, "999 B"),
            (1000, "1.0 kB"),
            (12_340_000, "12.3 MB"),
            (999_600_000, "1.0 GB"),
            (150_000_000, "150 MB"),
        ] {
            assert_eq!(Say::default().text(&size(bytes)), said);
        }
    }
}
