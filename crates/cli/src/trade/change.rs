//! A change to what the studio knows of golf: which file of the folder it is made in, and the whole read again and checked
//! before it is written. Commands and pages make the same changes here.

use super::entries::{put, take_out};
use super::folder::{DRILLS, Folder};
use super::{LINKS, Own, TARGETS};
use anyhow::{Context, Result, bail, ensure};
use lessonwright_coaching::{Flight, LinkKey, Target, Targets};
use lessonwright_language::Say;
use lessonwright_web::own::OwnChange;
use serde::Serialize;
use std::path::Path;

const NEW_TARGETS: &str =
    "# My own targets, in place of the standard ones for the same measure and moments.\n\n";
const NEW_LINKS: &str = "# What single links of the cause network count for, in my eyes.\n\n";

/// The folder as it would be, and what would be known by it.
///
/// Fails where the change can't be: then nothing is written.
pub fn changed<'a>(studio: &'a Path, change: &OwnChange) -> Result<(Folder<'a>, Own)> {
    let folder = Folder::at(studio);
    let folder = match change {
        OwnChange::Target {
            now,
            low,
            high,
            reason,
        } => target(folder, now, [*low, *high], reason)?,
        OwnChange::TargetBack(target) => without(folder, TARGETS, "target", &of_target(target))?,
        OwnChange::Link {
            link,
            weight,
            reason,
        } => {
            let text = folder.text(LINKS)?.unwrap_or_else(|| NEW_LINKS.into());
            let fields = vec![
                ("how", weight.key().into()),
                ("reason", reason.as_str().into()),
            ];
            let text = put(&text, "link", &of_link(link), fields)?;
            folder.with(LINKS, Some(text.into_bytes()))
        }
        OwnChange::LinkBack(link) => without(folder, LINKS, "link", &of_link(link))?,
        OwnChange::Drill {
            key,
            text,
            stills,
            moving,
        } => drill(folder, key, text, stills.clone(), moving.clone())?,
        OwnChange::DrillOut(key) => drill_out(folder, key)?,
    };
    let own = Own::of(&folder)?;
    Ok((folder, own))
}

/// Makes a change.
pub fn make(studio: &Path, change: &OwnChange) -> Result<Own> {
    let (folder, own) = changed(studio, change)?;
    folder.write()?;
    Ok(own)
}

fn target<'a>(
    folder: Folder<'a>,
    now: &Target,
    band: [f64; 2],
    reason: &str,
) -> Result<Folder<'a>> {
    let text = folder.text(TARGETS)?.unwrap_or_else(|| NEW_TARGETS.into());
    let standard = Targets::standard();
    let built_in = standard.iter().find(|other| other.same_place(now));
    let doubt = match built_in {
        Some(built_in) => format!(
            "The professional's own band; built in: {}.",
            Say::default().text(&built_in.words())
        ),
        None => "The professional's own band; none is built in.".to_owned(),
    };
    let mut fields = vec![
        ("unit", key(&now.unit)?.into()),
        ("low", band[0].into()),
        ("high", band[1].into()),
        ("basis", "professional".into()),
        ("source", reason.into()),
        ("doubt", doubt.into()),
    ];
    if let Some(view) = &now.view {
        fields.insert(0, ("view", key(view)?.into()));
    }
    let text = put(&text, "target", &of_target(now), fields)?;
    Ok(folder.with(TARGETS, Some(text.into_bytes())))
}

/// A file without an entry; the file stays, if only with its comments.
fn without<'a>(
    folder: Folder<'a>,
    file: &str,
    array: &str,
    marks: &[(&str, Option<String>)],
) -> Result<Folder<'a>> {
    match folder.text(file)? {
        None => Ok(folder),
        Some(text) => {
            let text = take_out(&text, array, marks)?;
            Ok(folder.with(file, Some(text.into_bytes())))
        }
    }
}

fn drill<'a>(
    folder: Folder<'a>,
    name: &str,
    text: &str,
    stills: Option<Vec<u8>>,
    moving: Option<Vec<u8>>,
) -> Result<Folder<'a>> {
    // Its key becomes a file's name; what else it may not be, the book says.
    ensure!(
        name.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'_'),
        "\"{name}\" is no key of a drill: small letters, digits and underscores, as in toes_up"
    );
    let file = |kind: &str| format!("{DRILLS}/{name}.{kind}");
    let is_own = folder.bytes(&file("md"))?.is_some();
    // A page that stands in place of the book's keeps the book's pictures, unless it brings its own.
    let book = lessonwright_coaching::Figures::standard();
    let ours = book.of(name).filter(|_| !is_own && stills.is_none());
    let moving = moving.or_else(|| ours?.moving.as_ref().map(|moving| moving.to_vec()));
    let stills = stills.or_else(|| Some(ours?.stills.to_vec()));
    let mut folder = folder.with(&file("md"), Some(text.as_bytes().to_vec()));
    for (kind, picture) in [("jpg", stills), ("webp", moving)] {
        if picture.is_some() {
            folder = folder.with(&file(kind), picture);
        }
    }
    Ok(folder)
}

fn drill_out<'a>(folder: Folder<'a>, name: &str) -> Result<Folder<'a>> {
    if !folder.drills()?.contains_key(name) {
        bail!("there is no own drill \"{name}\": the book's own pages stay");
    }
    let files = ["md", "jpg", "webp"].map(|kind| format!("{DRILLS}/{name}.{kind}"));
    Ok(files
        .iter()
        .fold(folder, |folder, file| folder.with(file, None)))
}

fn of_target(target: &Target) -> Vec<(&'static str, Option<String>)> {
    let word = |value: Result<String>| value.ok();
    vec![
        ("measure", word(key(&target.measure))),
        ("moment", word(key(&target.moment))),
        (
            "against",
            target.against.and_then(|against| word(key(&against))),
        ),
    ]
}

fn of_link(link: &LinkKey) -> Vec<(&'static str, Option<String>)> {
    let flight = |flight: &Flight| key(flight).ok();
    match link {
        LinkKey::Club { body, club } => vec![
            ("body", Some(body.clone())),
            ("club", Some(club.clone())),
            ("flight", None),
        ],
        LinkKey::Flight { club, flight: to } => vec![
            ("body", None),
            ("club", Some(club.clone())),
            ("flight", flight(to)),
        ],
    }
}

/// A word of the model as tables write it.
fn key(word: &impl Serialize) -> Result<String> {
    let value = serde_json::to_value(word)?;
    let text = value.as_str().map(str::to_owned);
    text.context("a word of the model is written as text")
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_coaching::{Basis, DrillBook, LinkWeight};
    use lessonwright_model::MeasureName;
    use std::fs;

    fn knee_line() -> Target {
        let targets = Targets::standard();
        let mut all = targets.iter();
        all.find(|t| t.measure == MeasureName::KneeLineTurn)
            .unwrap()
            .clone()
    }

    fn band(low: f64, high: f64) -> OwnChange {
        OwnChange::Target {
            now: knee_line(),
            low,
            high,
            reason: "On my mat they stand wider".into(),
        }
    }

    #[test]
    fn an_own_band_is_used_and_can_be_taken_back() {
        let studio = tempfile::tempdir().unwrap();
        let own = make(studio.path(), &band(-8.0, 14.0)).unwrap();
        let now = own
            .targets
            .iter()
            .find(|t| t.same_place(&knee_line()))
            .unwrap()
            .clone();
        assert_eq!(
            (now.low, now.high, now.basis),
            (-8.0, 14.0, Basis::Professional)
        );
        assert!(now.doubt.contains("built in"), "{}", now.doubt);
        // The same again changes one entry, not two.
        make(studio.path(), &band(-7.0, 13.0)).unwrap();
        let text = fs::read_to_string(studio.path().join(TARGETS)).unwrap();
        assert_eq!(text.matches("[[target]]").count(), 1);
        let own = make(studio.path(), &OwnChange::TargetBack(now)).unwrap();
        assert_eq!(own.targets, Targets::standard());
    }

    #[test]
    fn a_band_that_can_not_be_is_refused_and_nothing_is_written() {
        let studio = tempfile::tempdir().unwrap();
        make(studio.path(), &band(-8.0, 14.0)).unwrap();
        let before = fs::read_to_string(studio.path().join(TARGETS)).unwrap();
        let error = format!(
            "{:#}",
            make(studio.path(), &band(14.0, -8.0)).err().unwrap()
        );
        assert!(error.contains("swap"), "{error}");
        assert_eq!(
            fs::read_to_string(studio.path().join(TARGETS)).unwrap(),
            before
        );
    }

    #[test]
    fn a_link_is_turned_off_and_back() {
        let studio = tempfile::tempdir().unwrap();
        let link = LinkKey::Club {
            body: "ball_forward".into(),
            club: "path_out_to_in".into(),
        };
        let off = OwnChange::Link {
            link: link.clone(),
            weight: LinkWeight::Off,
            reason: "I don't see it".into(),
        };
        let own = make(studio.path(), &off).unwrap();
        assert_eq!(own.causes.weight(&link), None);
        assert_eq!(Own::load(studio.path()).unwrap().causes, own.causes);
        let own = make(studio.path(), &OwnChange::LinkBack(link.clone())).unwrap();
        assert_eq!(own.causes.weight(&link), Some(LinkWeight::Sometimes));
    }

    #[test]
    fn a_drill_is_taken_in_changed_and_left_out() {
        let studio = tempfile::tempdir().unwrap();
        let book = DrillBook::standard();
        let text = book.page("toes_up").unwrap().text();
        let own = |text: &str| OwnChange::Drill {
            key: "toes_up".into(),
            text: text.into(),
            stills: None,
            moving: None,
        };
        let mine = text.replacen("title = \"", "title = \"My ", 1);
        let now = make(studio.path(), &own(&mine)).unwrap();
        assert_eq!(now.book.page("toes_up").unwrap().text(), mine);
        assert!(
            now.figures.of("toes_up").is_some(),
            "it keeps the book's pictures"
        );
        let broken = mine.replace("## Steps", "## Stpes");
        let error = format!("{:#}", make(studio.path(), &own(&broken)).err().unwrap());
        assert!(error.contains("Stpes"), "{error}");
        assert_eq!(
            fs::read_to_string(studio.path().join("drills/toes_up.md")).unwrap(),
            mine
        );
        let out = OwnChange::DrillOut("toes_up".into());
        let now = make(studio.path(), &out).unwrap();
        assert_eq!(now.book.page("toes_up").unwrap().text(), text);
        assert!(studio.path().join("drills/left-out/toes_up.md").exists());
        assert!(make(studio.path(), &out).is_err());
        let elsewhere = OwnChange::Drill {
            key: "../elsewhere".into(),
            text: text.into(),
            stills: None,
            moving: None,
        };
        assert!(make(studio.path(), &elsewhere).is_err());
    }
}
