//! What the professional's studio knows of golf: the standard targets, causes, drills and rules, with the professional's
//! own in place of them (`targets.toml`, `causes.toml`, `links.toml`, `screening.toml`, `practice.toml`, `stations.toml` and
//! `drills/*.md`, with pictures beside them, in the studio's folder).

mod change;
mod entries;
mod folder;
mod preview;

pub use change::{changed, make};
pub use folder::{DRILLS, Folder};
pub use preview::preview;

use anyhow::{Context, Result};
use lessonwright_coaching::{
    BodyFact, CauseTable, DrillBook, Figures, Knowledge, LinkChanges, Named, PlanRules,
    PracticeRules, ScreeningRules, Stations, Targets, Words, sides_as_said_in,
};
use lessonwright_language::{Text, t};
use lessonwright_model::{Language, MomentName, Teaching};
use lessonwright_web::{Tickable, Trade, TradeIn};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Files of the studio's folder.
const TARGETS: &str = "targets.toml";
const CAUSES: &str = "causes.toml";
const LINKS: &str = "links.toml";
const SCREENING: &str = "screening.toml";
const PRACTICE: &str = "practice.toml";
const STATIONS: &str = "stations.toml";

/// Targets, causes, drills and rules in use.
#[derive(Clone)]
pub struct Own {
    pub targets: Targets,
    pub causes: CauseTable,
    pub book: DrillBook,
    pub screening: ScreeningRules,
    pub practice: PracticeRules,
    pub stations: Stations,
    pub figures: Figures,
    /// The language of what the player gets.
    pub language: Language,
    /// What the professional chose to teach in this swing.
    pub teaching: Teaching,
}

impl Own {
    /// As the studio's folder has them; the standard ones where it has none.
    ///
    /// Fails on a file that can't be read or says what can't be: a lesson on half of the professional's own
    /// words would be a wrong one.
    pub fn load(studio: &Path) -> Result<Own> {
        Own::of(&Folder::at(studio))
    }

    /// As this folder has them.
    pub fn of(folder: &Folder<'_>) -> Result<Own> {
        let name = |file: &str| folder.path(file).display().to_string();
        let targets = match folder.text(TARGETS)? {
            Some(text) => Targets::standard().replaced_by(Targets::parse(&name(TARGETS), &text)?),
            None => Targets::standard(),
        };
        let causes = unchanged_causes(folder)?.changed_by(&name(LINKS), &link_changes(folder)?)?;
        let drills = folder.path(DRILLS);
        let book = with_pages(DrillBook::standard(), folder.drills()?, &drills)?;
        let book = with_words_of(book, &drills)?;
        book.check_with(&name(CAUSES), &causes)?;
        let screening = match folder.text(SCREENING)? {
            Some(text) => ScreeningRules::parse(&name(SCREENING), &text)?,
            None => ScreeningRules::standard(),
        };
        screening.check_with(&name(SCREENING), &causes)?;
        let practice = match folder.text(PRACTICE)? {
            Some(text) => PracticeRules::parse(&name(PRACTICE), &text)?,
            None => PracticeRules::standard(),
        };
        let stations = match folder.text(STATIONS)? {
            Some(text) => Stations::parse(&name(STATIONS), &text)?,
            None => Stations::standard(),
        };
        stations.check_with(&name(STATIONS), &book)?;
        Ok(Own {
            targets,
            causes,
            book,
            screening,
            practice,
            stations,
            figures: own_pictures(folder)?,
            language: Language::default(),
            teaching: Teaching::default(),
        })
    }

    /// All of it said in a language; what the professional has written stays as it was written.
    pub fn in_language(self, language: Language) -> Own {
        Own {
            targets: self.targets.in_language(language),
            causes: self.causes.in_language(language),
            book: self.book.in_language(language),
            screening: self.screening.in_language(language),
            practice: self.practice.in_language(language),
            stations: self.stations.in_language(language),
            language,
            ..self
        }
    }

    /// As a prescription that is kept is said again from.
    pub fn words(&self) -> Words<'_> {
        Words {
            causes: &self.causes,
            book: &self.book,
            screening: &self.screening,
        }
    }

    /// As the coaching takes it.
    pub fn knowledge(&self) -> Knowledge<'_> {
        Knowledge {
            targets: &self.targets,
            book: &self.book,
            causes: &self.causes,
            screening: &self.screening,
        }
    }

    /// As a plan takes it.
    pub fn plan_rules(&self) -> PlanRules<'_> {
        PlanRules {
            practice: &self.practice,
            screening: &self.screening,
            book: &self.book,
            stations: &self.stations,
        }
    }

    /// What the studio's pages offer and show of it, said once in every language.
    pub fn for_pages(&self) -> TradeIn {
        let said = Language::ALL.map(|language| (language, Arc::new(self.words_in(language))));
        Arc::new(move |language| {
            let found = said.iter().find(|(one, _)| *one == language);
            Arc::clone(&found.unwrap_or(&said[0]).1)
        })
    }

    fn words_in(&self, language: Language) -> Trade {
        let causes = self.causes.clone().in_language(language);
        let words = |named: &[Named]| {
            let pair = |one: &Named| (one.key.clone(), sides_as_said_in(language, &one.says));
            named.iter().map(pair).collect()
        };
        let mut bodies: Vec<&BodyFact> = causes.bodies().iter().collect();
        // Stable: within a part they stay in the order of the table.
        bodies.sort_by_key(|body| body.moment);
        let tickable = bodies.into_iter().map(|body| Tickable {
            part: part_of(body.moment),
            key: body.key.clone(),
            says: sides_as_said_in(language, &body.short),
        });
        Trade {
            tickable: tickable.collect(),
            limits: words(causes.limits()),
            goals: words(causes.goals()),
        }
    }
}

/// Where the professional's own drills lie.
pub fn drills_folder(studio: &Path) -> PathBuf {
    studio.join(DRILLS)
}

/// The causes before single links are changed.
pub fn unchanged_causes(folder: &Folder<'_>) -> Result<CauseTable> {
    let file = folder.path(CAUSES).display().to_string();
    Ok(match folder.text(CAUSES)? {
        Some(text) => CauseTable::parse(&file, &text)?,
        None => CauseTable::standard(),
    })
}

/// The changes to single links.
pub fn link_changes(folder: &Folder<'_>) -> Result<LinkChanges> {
    let file = folder.path(LINKS).display().to_string();
    Ok(match folder.text(LINKS)? {
        Some(text) => LinkChanges::parse(&file, &text)?,
        None => LinkChanges::default(),
    })
}

/// The professional's own targets, without the standard ones.
pub fn own_targets(folder: &Folder<'_>) -> Result<Targets> {
    let file = folder.path(TARGETS).display().to_string();
    let text = folder.text(TARGETS)?.unwrap_or_default();
    Ok(Targets::parse(&file, &text)?)
}

/// A book with the pages of a folder; as it is where there is no such folder.
pub fn with_pages_of(book: DrillBook, folder: &Path) -> Result<DrillBook> {
    with_pages(book, pages_in(folder)?, folder)
}

fn with_pages(
    book: DrillBook,
    pages: impl IntoIterator<Item = (String, String)>,
    folder: &Path,
) -> Result<DrillBook> {
    pages.into_iter().try_fold(book, |book, (key, text)| {
        book.with(&key, &text)
            .with_context(|| format!("in the drills of {}", folder.display()))
    })
}

/// The book's pictures, with those of the own pages.
fn own_pictures(folder: &Folder<'_>) -> Result<Figures> {
    let pages = folder.drills()?;
    pages.keys().try_fold(Figures::standard(), |figures, key| {
        let picture = |kind: &str| folder.bytes(&format!("{DRILLS}/{key}.{kind}"));
        figures
            .with_own(key, picture("jpg")?, picture("webp")?)
            .with_context(|| format!("the pictures of {key}"))
    })
}

/// A book with the words that lie in a folder's own folder of each language: `de/KEY.md`.
pub fn with_words_of(book: DrillBook, folder: &Path) -> Result<DrillBook> {
    words_in(folder)?
        .into_iter()
        .try_fold(book, |book, (language, key, text)| {
            book.with_words(language, &key, &text)
                .with_context(|| format!("in the drills of {}", folder.display()))
        })
}

/// Language, key and text of each page in another language.
pub fn words_in(folder: &Path) -> Result<Vec<(Language, String, String)>> {
    let mut all = Vec::new();
    for language in Language::ALL {
        let pages = pages_in(&folder.join(language.tag()))?;
        all.extend(pages.into_iter().map(|(key, text)| (language, key, text)));
    }
    Ok(all)
}

/// Pictures with those that lie beside the pages of a folder: `KEY.jpg` and `KEY.webp`.
pub fn with_pictures_of(figures: Figures, folder: &Path) -> Result<Figures> {
    let pages = pages_in(folder)?;
    pages.into_iter().try_fold(figures, |figures, (key, _)| {
        let picture = |kind: &str| bytes(&folder.join(format!("{key}.{kind}")));
        let (stills, moving) = (picture("jpg")?, picture("webp")?);
        figures
            .with_own(&key, stills, moving)
            .with_context(|| format!("the pictures of {key} in {}", folder.display()))
    })
}

/// Key and text of each page (`*.md`) in a folder, in the order of the alphabet; none where there is no folder.
pub fn pages_in(folder: &Path) -> Result<Vec<(String, String)>> {
    let entries = match std::fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Vec::new()),
        Err(error) => return Err(error).with_context(|| format!("reading {}", folder.display())),
    };
    let mut pages = Vec::new();
    for entry in entries {
        let path = entry
            .with_context(|| format!("reading {}", folder.display()))?
            .path();
        if path.extension().is_some_and(|ext| ext == "md") {
            let key = path
                .file_stem()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned();
            let text = std::fs::read_to_string(&path)
                .with_context(|| format!("reading {}", path.display()))?;
            pages.push((key, text));
        }
    }
    pages.sort();
    Ok(pages)
}

/// A file's bytes; none if there is no such file.
fn bytes(file: &Path) -> Result<Option<Vec<u8>>> {
    match std::fs::read(file) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error).with_context(|| format!("reading {}", file.display())),
    }
}

fn part_of(moment: MomentName) -> Text {
    t(match moment {
        MomentName::Address => "swing-part-set-up",
        MomentName::ShaftLevelBack | MomentName::LeadArmLevelBack | MomentName::Top => {
            "swing-part-back"
        }
        MomentName::LeadArmLevelDown | MomentName::ShaftLevelDown => "swing-part-down",
        MomentName::Impact | MomentName::Finish => "swing-part-impact",
    })
}
