//! Tables of players, swings, moments and measures in two forms, CSV and Parquet; and the same for research, without anything
//! that shows or names a player. Pseudonyms are no anonymity: who knows a player's numbers can find the player.

use super::{analysed, make_empty, row, write};
use anyhow::{Context, Result};
use jiff::Timestamp;
use lessonwright_exchange::{Cell, Kind, SwingRow, Table, measures, moments, swings};
use lessonwright_model::{Hand, PlayerFacts, Sex};
use lessonwright_store::{Player, Store};
use sha2::{Digest, Sha256};
use std::fs;
use std::io::{ErrorKind, Write};
use std::path::Path;

/// Makes a player's pseudonym: the same in every export of this studio, and without the studio's own key not to be found.
pub struct Pseudonyms {
    key: String,
}

impl Pseudonyms {
    /// With the studio's key (`pseudonyms.key`), which is made the first time. It is in no export and no backup.
    pub fn of(studio: &Path) -> Result<Pseudonyms> {
        let path = studio.join("pseudonyms.key");
        let reading = || format!("reading {}", path.display());
        match fs::read_to_string(&path) {
            Ok(key) => return Ok(Pseudonyms { key }),
            Err(error) if error.kind() == ErrorKind::NotFound => {}
            Err(error) => return Err(error).with_context(reading),
        }
        let mut bytes = [0; 32];
        getrandom::fill(&mut bytes).context("asking the system for a key")?;
        let key = hex(&bytes);
        let mut options = fs::OpenOptions::new();
        options.write(true).create_new(true);
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        let file = options.open(&path);
        file.and_then(|mut file| file.write_all(key.as_bytes()))
            .with_context(|| format!("writing {}", path.display()))?;
        Ok(Pseudonyms { key })
    }

    /// "p-" and twelve hexadecimal digits, of a player's code.
    fn name(&self, code: &str) -> String {
        let text = format!("{}/{code}/{}", self.key, self.key);
        format!("p-{}", hex(&Sha256::digest(text)[..6]))
    }
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Writes the tables of these players; how many swings.
pub async fn write_out(
    store: &Store,
    players: &[Player],
    out: &Path,
    pseudonyms: Option<&Pseudonyms>,
) -> Result<usize> {
    make_empty(out)?;
    let mut all = Vec::new();
    for player in players {
        all.push((player, analysed(store, player).await?));
    }
    let mut rows: Vec<SwingRow<'_>> = Vec::new();
    for (player, exported) in &all {
        let instant = |one: &super::Exported| one.swing.filmed_at.unwrap_or(one.swing.added_at);
        let first = exported.iter().map(instant).min();
        for one in exported {
            let mut row = row(one);
            if let (Some(pseudonyms), Some(first)) = (pseudonyms, first) {
                row.player = pseudonyms.name(&player.code());
                row.at = days_after(first, instant(one));
            }
            rows.push(row);
        }
    }
    // In no order that tells who came first.
    if pseudonyms.is_some() {
        rows.sort_by(|a, b| (&a.player, a.swing).cmp(&(&b.player, b.swing)));
        for (place, row) in rows.iter_mut().enumerate() {
            row.swing = place as i64 + 1;
        }
    }
    write_tables(&rows, out)?;
    let players = player_table(players, pseudonyms);
    write_both(out, "players", &players)?;
    Ok(rows.len())
}

/// Swings, moments and measures.
pub fn write_tables(rows: &[SwingRow<'_>], out: &Path) -> Result<()> {
    write_both(out, "swings", &swings(rows)?)?;
    write_both(out, "moments", &moments(rows)?)?;
    write_both(out, "measures", &measures(rows)?)
}

fn write_both(out: &Path, name: &str, table: &Table) -> Result<()> {
    write(out, &format!("{name}.csv"), &table.csv()?)?;
    write(out, &format!("{name}.parquet"), &table.parquet()?)
}

/// "P12D" (ISO 8601).
fn days_after(first: Timestamp, at: Timestamp) -> String {
    format!("P{}D", at.duration_since(first).as_hours() / 24)
}

fn player_table(players: &[Player], pseudonyms: Option<&Pseudonyms>) -> Table {
    let columns = [
        ("player", Kind::Text),
        ("hand", Kind::Text),
        ("sex", Kind::Text),
        ("age_years", Kind::Whole),
        ("stature_m", Kind::Real),
    ];
    let text = |text: Option<&str>| text.map_or(Cell::Unknown, |text| Cell::Text(text.to_owned()));
    let cells = |player: &Player| {
        let facts = &player.facts;
        let (age, stature) = match pseudonyms {
            Some(_) => rounded(facts),
            None => (facts.age_years, facts.stature_m),
        };
        let name = pseudonyms.map_or(player.id.to_string(), |one| one.name(&player.code()));
        vec![
            Cell::Text(name),
            text(facts.hand.map(|hand| match hand {
                Hand::Right => "right",
                Hand::Left => "left",
            })),
            text(facts.sex.map(Sex::key)),
            age.map_or(Cell::Unknown, |age| Cell::Whole(age.into())),
            Cell::real(stature),
        ]
    };
    let mut rows: Vec<Vec<Cell>> = players.iter().map(cells).collect();
    if pseudonyms.is_some() {
        rows.sort_by_key(|row| format!("{:?}", row[0]));
    }
    Table::of(&columns, rows)
}

/// Age down to ten years, stature to five centimetres.
fn rounded(facts: &PlayerFacts) -> (Option<u32>, Option<f64>) {
    let stature = facts.stature_m.map(|m| (m * 20.0).round() / 20.0);
    (facts.age_years.map(|age| age / 10 * 10), stature)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pseudonym_stays_in_a_studio_and_is_another_elsewhere() {
        let (one, two) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        let name = |folder: &tempfile::TempDir, code: &str| {
            Pseudonyms::of(folder.path()).unwrap().name(code)
        };
        assert_eq!(name(&one, "0123456789ab"), name(&one, "0123456789ab"));
        assert_ne!(name(&one, "0123456789ab"), name(&one, "0123456789ac"));
        assert_ne!(name(&one, "0123456789ab"), name(&two, "0123456789ab"));
        assert!(!name(&one, "0123456789ab").contains("0123456789ab"));
    }

    #[test]
    fn what_tells_a_player_apart_is_rounded() {
        let facts = PlayerFacts {
            age_years: Some(47),
            stature_m: Some(1.83),
            ..PlayerFacts::default()
        };
        let (age, stature) = rounded(&facts);
        assert_eq!(age, Some(40));
        assert!((stature.unwrap() - 1.85).abs() < 1e-9);
        let day = |second| Timestamp::from_second(second).unwrap();
        assert_eq!(days_after(day(0), day(12 * 86_400 + 3600)), "P12D");
    }
}
