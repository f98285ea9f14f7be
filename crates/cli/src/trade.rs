//! What the professional's studio knows of golf: the standard targets, causes, drills and rules, with the professional's
//! own in place of them (`targets.toml`, `causes.toml`, `screening.toml`, `practice.toml`, `stations.toml` and
//! `drills/*.md`, with pictures beside them, in the studio's folder).

use anyhow::{Context, Result};
use lessonwright_coaching::{
    BodyFact, CauseTable, DrillBook, Figures, Knowledge, Named, PlanRules, PracticeRules,
    ScreeningRules, Stations, Targets, Words,
};
use lessonwright_model::{Language, MomentName, Teaching};
use lessonwright_web::{Tickable, Trade};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

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
        let file = studio.join("targets.toml");
        let targets = match read(&file)? {
            Some(text) => {
                let own = Targets::parse(&file.display().to_string(), &text)?;
                Targets::standard().replaced_by(own)
            }
            None => Targets::standard(),
        };
        let file = studio.join("causes.toml");
        let causes = match read(&file)? {
            Some(text) => CauseTable::parse(&file.display().to_string(), &text)?,
            None => CauseTable::standard(),
        };
        let book = with_words_of(
            with_pages_of(DrillBook::standard(), &drills_folder(studio))?,
            &drills_folder(studio),
        )?;
        book.check_with(&file.display().to_string(), &causes)?;
        let file = studio.join("screening.toml");
        let screening = match read(&file)? {
            Some(text) => ScreeningRules::parse(&file.display().to_string(), &text)?,
            None => ScreeningRules::standard(),
        };
        screening.check_with(&file.display().to_string(), &causes)?;
        let file = studio.join("practice.toml");
        let practice = match read(&file)? {
            Some(text) => PracticeRules::parse(&file.display().to_string(), &text)?,
            None => PracticeRules::standard(),
        };
        let file = studio.join("stations.toml");
        let stations = match read(&file)? {
            Some(text) => Stations::parse(&file.display().to_string(), &text)?,
            None => Stations::standard(),
        };
        stations.check_with(&file.display().to_string(), &book)?;
        let figures = with_pictures_of(Figures::standard(), &drills_folder(studio))?;
        Ok(Own {
            targets,
            causes,
            book,
            screening,
            practice,
            stations,
            figures,
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

    /// What the studio's pages offer and show of it.
    pub fn for_pages(&self) -> Trade {
        let words = |named: &[Named]| {
            let pair = |one: &Named| (one.key.clone(), sides_as_said(&one.says));
            named.iter().map(pair).collect()
        };
        let mut bodies: Vec<&BodyFact> = self.causes.bodies().iter().collect();
        // Stable: within a part they stay in the order of the table.
        bodies.sort_by_key(|body| body.moment);
        let tickable = bodies.into_iter().map(|body| Tickable {
            part: part_of(body.moment),
            key: body.key.clone(),
            says: sides_as_said(&body.short),
        });
        Trade {
            tickable: tickable.collect(),
            limits: words(self.causes.limits()),
            goals: words(self.causes.goals()),
        }
    }
}

/// Where the professional's own drills lie.
pub fn drills_folder(studio: &Path) -> PathBuf {
    studio.join("drills")
}

/// A book with the pages of a folder; as it is where there is no such folder.
pub fn with_pages_of(book: DrillBook, folder: &Path) -> Result<DrillBook> {
    let pages = pages_in(folder)?;
    pages.into_iter().try_fold(book, |book, (key, text)| {
        book.with(&key, &text)
            .with_context(|| format!("in the drills of {}", folder.display()))
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

/// A file's text; none if there is no such file.
fn read(file: &Path) -> Result<Option<String>> {
    match std::fs::read_to_string(file) {
        Ok(text) => Ok(Some(text)),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error).with_context(|| format!("reading {}", file.display())),
    }
}

/// A file's bytes; none if there is no such file.
fn bytes(file: &Path) -> Result<Option<Vec<u8>>> {
    match std::fs::read(file) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error).with_context(|| format!("reading {}", file.display())),
    }
}

/// A template as professionals say it, whatever the hand.
pub fn sides_as_said(template: &str) -> String {
    let said = [
        ("{lead}", "lead"),
        ("{trail}", "trail"),
        ("{Lead}", "Lead"),
        ("{Trail}", "Trail"),
    ];
    said.iter().fold(template.to_owned(), |text, (side, word)| {
        text.replace(side, word)
    })
}

fn part_of(moment: MomentName) -> &'static str {
    match moment {
        MomentName::Address => "Set-up",
        MomentName::ShaftLevelBack | MomentName::LeadArmLevelBack | MomentName::Top => {
            "Going back and top"
        }
        MomentName::LeadArmLevelDown | MomentName::ShaftLevelDown => "Coming down",
        MomentName::Impact | MomentName::Finish => "Impact and tempo",
    }
}
