//! `drills`: the drill book – looked at, carried out as Markdown files, and the professional's own brought in.
//!
//! Own pages lie in the studio's folder `drills`, one `KEY.md` each; one with the key of a standard page is used
//! instead of it. Its pictures lie beside it: `KEY.jpg`, three stills of a right-hander side by side or any other
//! picture, and `KEY.webp`, the drill moving.

use crate::arguments::HandName;
use crate::surroundings::Surroundings;
use crate::trade::{Own, drills_folder, make, pages_in, with_pages_of, with_pictures_of};
use anyhow::{Context, Result, bail, ensure};
use clap::Subcommand;
use lessonwright_coaching::{Care, DrillBook, DrillPage};
use lessonwright_model::{Drill, Hand};
use lessonwright_web::own::OwnChange;
use std::fmt::Write;
use std::path::{Path, PathBuf};

/// What is to be done with the drill book.
#[derive(Subcommand)]
pub enum DrillsCommand {
    /// Every drill: its key, its title, what it changes; own pages are marked
    List,
    /// One drill as the player reads it
    Show {
        /// The drill's key
        key: String,
        /// The hand the player plays
        #[arg(long, value_enum, default_value = "right")]
        hand: HandName,
    },
    /// Write every page as a Markdown file, to read, change or pass on
    Export {
        /// Into this folder
        folder: PathBuf,
        /// Also where a file of that name is there already
        #[arg(long)]
        overwrite: bool,
    },
    /// Read the pages of a folder and say what is wrong with them; changes nothing
    Check {
        /// The folder
        folder: PathBuf,
    },
    /// Check the pages of a folder and copy them into the studio, in place of those with the same keys
    Import {
        /// The folder
        folder: PathBuf,
    },
    /// Use an own page no more; it lies in the studio's `drills/left-out`
    LeaveOut {
        /// The drill's key
        key: String,
    },
}

/// What there is to say.
pub fn run(around: &Surroundings, command: &DrillsCommand) -> Result<String> {
    match command {
        DrillsCommand::List => list(&around.studio),
        DrillsCommand::Show { key, hand } => show(&around.studio, key, (*hand).into()),
        DrillsCommand::Export { folder, overwrite } => export(&around.studio, folder, *overwrite),
        DrillsCommand::Check { folder } => check(&around.studio, folder),
        DrillsCommand::Import { folder } => import(&around.studio, folder),
        DrillsCommand::LeaveOut { key } => {
            make(&around.studio, &OwnChange::DrillOut(key.clone()))?;
            Ok(format!("{key} is left out\n"))
        }
    }
}

fn list(studio: &Path) -> Result<String> {
    let book = Own::load(studio)?.book;
    let own: Vec<String> = keys_in(&drills_folder(studio))?;
    let mut text = String::new();
    for page in book.pages() {
        let drill = page.worded(Hand::Right, &Care::Full);
        let mark = if own.iter().any(|key| key == page.key()) {
            " (own)"
        } else {
            ""
        };
        writeln!(
            text,
            "{:28} {}{mark}: {}",
            page.key(),
            drill.title,
            drill.changes
        )?;
    }
    writeln!(
        text,
        "{} drills, {} of them own",
        book.pages().count(),
        own.len()
    )?;
    Ok(text)
}

fn show(studio: &Path, key: &str, hand: Hand) -> Result<String> {
    let book = Own::load(studio)?.book;
    let page = book.page(key).with_context(|| {
        format!("there is no drill \"{key}\": `lessonwright drills list` shows the keys")
    })?;
    Ok(worded(&page.worded(hand, &Care::Full)))
}

fn worded(drill: &Drill) -> String {
    let mut text = format!("{}\n{}\n", drill.title, drill.changes);
    let lists: [(&str, &[String]); 7] = [
        ("You need", &drill.station),
        ("Set-up", &drill.set_up),
        ("Steps", &drill.steps),
        ("Step by step", &drill.progressions),
        ("Watch for", &drill.watch_for),
        ("Cautions", &drill.cautions),
        ("Who should not", &drill.who_should_not),
    ];
    for (heading, items) in lists {
        text += &format!("{heading}\n");
        for item in items {
            text += &format!("  - {item}\n");
        }
    }
    let lines = [
        ("Feel", &drill.feel),
        ("Cue", &drill.cue_outward),
        ("Cue, inward", &drill.cue_inward),
        ("Checkpoint", &drill.checkpoint),
        ("Dose", &drill.dose),
    ];
    for (name, line) in lines {
        text += &format!("{name}: {line}\n");
    }
    text
}

fn export(studio: &Path, folder: &Path, overwrite: bool) -> Result<String> {
    let own = Own::load(studio)?;
    let book = &own.book;
    let file = |page: &DrillPage| folder.join(format!("{}.md", page.key()));
    if !overwrite && let Some(there) = book.pages().map(file).find(|file| file.exists()) {
        bail!(
            "{} is there already: choose an empty folder, or say --overwrite",
            there.display()
        );
    }
    std::fs::create_dir_all(folder).with_context(|| format!("making {}", folder.display()))?;
    let write = |file: &Path, bytes: &[u8]| {
        std::fs::write(file, bytes).with_context(|| format!("writing {}", file.display()))
    };
    for page in book.pages() {
        let file = file(page);
        write(&file, page.text().as_bytes())?;
        if let Some(figure) = own.figures.of(page.key()) {
            write(&file.with_extension("jpg"), &figure.stills)?;
            if let Some(moving) = &figure.moving {
                write(&file.with_extension("webp"), moving)?;
            }
        }
    }
    Ok(format!(
        "{} drills written to {}\n",
        book.pages().count(),
        folder.display()
    ))
}

fn check(studio: &Path, folder: &Path) -> Result<String> {
    let pages = sound_pages(studio, folder)?;
    let standard = DrillBook::standard();
    let mut text = String::new();
    for (key, _) in &pages {
        let what = match standard.page(key) {
            Some(_) => "in place of the standard page",
            None => "new",
        };
        writeln!(text, "{key}: sound, {what}")?;
    }
    Ok(text + &unused(studio, folder)?)
}

fn import(studio: &Path, folder: &Path) -> Result<String> {
    let pages = sound_pages(studio, folder)?;
    let own = drills_folder(studio);
    std::fs::create_dir_all(&own).with_context(|| format!("making {}", own.display()))?;
    for (key, text) in &pages {
        let file = own.join(format!("{key}.md"));
        std::fs::write(&file, text).with_context(|| format!("writing {}", file.display()))?;
        for kind in ["jpg", "webp"] {
            bring_picture(
                &folder.join(format!("{key}.{kind}")),
                &file.with_extension(kind),
            )?;
        }
    }
    Ok(format!(
        "{} drills brought into {}\n{}",
        pages.len(),
        own.display(),
        unused(studio, folder)?
    ))
}

/// Puts a page's picture beside it; a page that comes without one loses the one it had.
fn bring_picture(from: &Path, to: &Path) -> Result<()> {
    let done = if from.exists() {
        std::fs::copy(from, to).map(|_| ())
    } else {
        std::fs::remove_file(to)
    };
    match done {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => {
            Err(error).with_context(|| format!("writing {}", to.display()))
        }
        _ => Ok(()),
    }
}

/// The pages of a folder, if each of them is sound and all of them fit the causes; else every fault, a line each.
fn sound_pages(studio: &Path, folder: &Path) -> Result<Vec<(String, String)>> {
    ensure!(folder.is_dir(), "{} is no folder", folder.display());
    let pages = pages_in(folder)?;
    ensure!(
        !pages.is_empty(),
        "{} holds no drill: a drill is a file KEY.md, as `lessonwright drills export` writes it",
        folder.display()
    );
    let parsed = pages.iter().map(|(key, text)| DrillPage::parse(key, text));
    let faults: Vec<String> = parsed
        .filter_map(|page| Some(page.err()?.to_string()))
        .collect();
    ensure!(faults.is_empty(), "{}", faults.join("\n"));
    let own = Own::load(studio)?;
    with_pages_of(own.book, folder)?.check_with("the causes", &own.causes)?;
    with_pictures_of(own.figures, folder)?;
    Ok(pages)
}

/// A word on pages that would never be handed out.
fn unused(studio: &Path, folder: &Path) -> Result<String> {
    let own = Own::load(studio)?;
    let book = with_pages_of(own.book, folder)?;
    let mut text = String::new();
    for key in keys_in(folder)? {
        let mut bodies = own.causes.bodies().iter();
        if !bodies.any(|body| book.drills_of(body).iter().any(|page| page.key() == key)) {
            writeln!(
                text,
                "{key}: no body fact has it, so it is never proposed; name some in its front matter: answers = \
                 [\"…\"] (`lessonwright causes list` shows them)"
            )?;
        }
    }
    Ok(text)
}

fn keys_in(folder: &Path) -> Result<Vec<String>> {
    Ok(pages_in(folder)?.into_iter().map(|(key, _)| key).collect())
}
