//! Rows and files in. First the files are copied and checked, then all rows are written in one step: everything is
//! there or nothing.

use super::tree::{PLAYERS, Table, tree};
use super::write::schema;
use super::{Records, Row, bad, plain};
use crate::error::{StoreError, during};
use crate::media;
use crate::players::check_film_allowed;
use crate::rows::{PlayerId, SwingId};
use crate::store::Store;
use jiff::Timestamp;
use lessonwright_model::{
    Brief, ClipFacts, Corrections, Practice, ReferenceChoice, Screening, SwingAnalysis,
};
use serde::de::DeserializeOwned;
use serde_json::Value;
use sqlx::sqlite::{SqliteArguments, SqliteConnection};
use sqlx::{AssertSqlSafe, Sqlite};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// What came in.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Brought {
    /// Everybody in the records.
    pub players: Vec<BroughtPlayer>,
    /// Rows that are new, by table.
    pub added: BTreeMap<String, usize>,
    /// Rows that were here already, by table.
    pub there: BTreeMap<String, usize>,
}

/// A player of the records.
#[derive(Clone, Debug, PartialEq)]
pub struct BroughtPlayer {
    /// Key here.
    pub id: PlayerId,
    /// The name in the records.
    pub called: String,
    /// The name here: another one where somebody else has it.
    pub name: String,
    /// Not on the roster before.
    pub new: bool,
}

type Query = sqlx::query::Query<'static, Sqlite, SqliteArguments>;

impl Store {
    /// Brings in what [`Store::write_records`] wrote, from this studio or another.
    ///
    /// # Errors
    /// If the files are damaged or of a later version, a minor has no guardian's consent on record, or the disk or
    /// database fails; then nothing has come in.
    pub async fn bring_records(&self, folder: &Path) -> Result<Brought, StoreError> {
        let own_schema = {
            let mut look = self
                .pool
                .acquire()
                .await
                .map_err(during("look at its version"))?;
            schema(&mut look).await?
        };
        let records = Records::read(folder, own_schema)?;
        let staged = self
            .folder()
            .join(format!("incoming-{}", std::process::id()));
        media::remove_folder(&staged).await?;
        let done = self.bring_staged(&records, folder, &staged).await;
        media::remove_folder(&staged).await?;
        done
    }

    async fn bring_staged(
        &self,
        records: &Records,
        from: &Path,
        staged: &Path,
    ) -> Result<Brought, StoreError> {
        for file in &records.files {
            let path = plain(&file.path)?;
            let part = media::copy(from.join(&path), staged.join(&path)).await?;
            if part.sha256 != file.sha256 {
                return Err(bad(format!("{} is damaged", file.path)));
            }
            part.settle().await?;
        }
        let failed = || during("bring records in");
        let mut change = self
            .pool
            .begin_with("BEGIN IMMEDIATE")
            .await
            .map_err(failed())?;
        let mut bringing = Bringing {
            database: &mut change,
            staged,
            keys: BTreeMap::new(),
            claimed: BTreeSet::new(),
            new_swings: Vec::new(),
            brought: Brought::default(),
        };
        bringing.all(records).await?;
        let Bringing {
            keys,
            brought,
            new_swings,
            ..
        } = bringing;
        for swing in new_swings {
            // Left there by a work that was cut short: no row had this key.
            media::remove_folder(&self.media_folder(swing)).await?;
        }
        let placed = self.place(records, staged, &keys).await;
        let done = match placed {
            Ok(()) => change.commit().await.map_err(failed()),
            Err(error) => Err(error),
        };
        done.map(|()| brought)
    }

    /// Files to where they belong; one that is there already stays as it is.
    async fn place(&self, records: &Records, staged: &Path, keys: &Keys) -> Result<(), StoreError> {
        for file in &records.files {
            let mut parts = file.path.split('/');
            let (Some("swings"), Some(swing), Some(name)) =
                (parts.next(), parts.next(), parts.next())
            else {
                continue;
            };
            let old = swing.parse().ok();
            let Some(new) = old.and_then(|old: i64| keys.get(&("swings".into(), old))) else {
                return Err(bad(format!("{} belongs to no swing", file.path)));
            };
            let to = self.media_folder(SwingId(*new)).join(renamed(name, keys));
            if !to.exists() {
                media::take_in_place(staged.join(plain(&file.path)?), to).await?;
            }
        }
        Ok(())
    }
}

/// Table and key there → key here.
type Keys = BTreeMap<(String, i64), i64>;

struct Bringing<'a> {
    database: &'a mut SqliteConnection,
    staged: &'a Path,
    keys: Keys,
    /// Rows here that a row of the records was already found to be: two alike stay two.
    claimed: BTreeSet<(String, i64)>,
    new_swings: Vec<SwingId>,
    brought: Brought,
}

impl Bringing<'_> {
    async fn all(&mut self, records: &Records) -> Result<(), StoreError> {
        let tables = tree(self.database).await?;
        let known = |name: &String| tables.iter().any(|table| table.name == *name);
        if let Some(strange) = records.tables.keys().find(|name| !known(name)) {
            return Err(bad(format!("there is no table \"{strange}\" here")));
        }
        for table in &tables {
            for row in records.rows(&table.name) {
                self.row(table, row).await?;
            }
        }
        self.own_swings(records).await?;
        for player in &self.brought.players {
            check_film_allowed(&mut *self.database, player.id).await?;
        }
        Ok(())
    }

    async fn row(&mut self, table: &Table, row: &Row) -> Result<(), StoreError> {
        let mut row = row.clone();
        check(table, &row)?;
        for (column, to) in &table.references {
            if let Some(old) = row.get(column).and_then(Value::as_i64) {
                let new = self.keys.get(&(to.clone(), old));
                let new =
                    new.ok_or_else(|| bad(format!("{} leads to no row of {to}", table.name)))?;
                row.insert(column.clone(), Value::from(*new));
            }
        }
        if table.name == "lesson_files" {
            let path = text(&row, "path")?;
            row.insert("path".into(), renamed(&path, &self.keys).into());
        }
        let old = table.key().and_then(|key| row.get(key)?.as_i64());
        let called = (table.name == PLAYERS)
            .then(|| text(&row, "name"))
            .transpose()?;
        let there = match &called {
            Some(name) => self.player_there(&row, name).await?,
            None => self.there(table, &row).await?,
        };
        let count = if there.is_some() {
            &mut self.brought.there
        } else {
            &mut self.brought.added
        };
        *count.entry(table.name.clone()).or_default() += 1;
        let new = match there {
            Some(here) => here,
            None => {
                if let Some(name) = &called {
                    row.insert("name".into(), self.free_name(name).await?.into());
                    // Leads to a swing that has no key yet.
                    row.insert("reference".into(), Value::Null);
                }
                let new = self.insert(table, &row).await?;
                if table.name == "swings" {
                    self.new_swings.push(SwingId(new));
                }
                new
            }
        };
        self.claimed.insert((table.name.clone(), new));
        if let Some(old) = old {
            self.keys.insert((table.name.clone(), old), new);
        }
        if let Some(called) = called {
            let name: String = sqlx::query_scalar("SELECT name FROM players WHERE id = ?")
                .bind(new)
                .fetch_one(&mut *self.database)
                .await
                .map_err(during("look for a player"))?;
            let id = PlayerId(new);
            self.brought.players.push(BroughtPlayer {
                id,
                called,
                name,
                new: there.is_none(),
            });
        }
        Ok(())
    }

    /// The row that this one is, if it is here: the first that is like it and not yet taken for another.
    async fn there(&mut self, table: &Table, row: &Row) -> Result<Option<i64>, StoreError> {
        let columns = table.identity();
        let alike: Vec<String> = columns
            .iter()
            .map(|column| format!("\"{column}\" IS ?"))
            .collect();
        let text = format!(
            "SELECT rowid FROM \"{}\" WHERE {} ORDER BY rowid",
            table.name,
            alike.join(" AND ")
        );
        let mut query = sqlx::query_scalar::<_, i64>(AssertSqlSafe(text));
        for column in columns {
            query = match row.get(column) {
                Some(Value::Number(number)) => query.bind(number.as_i64()),
                Some(Value::String(text)) => query.bind(text.clone()),
                Some(value @ Value::Object(_)) => query.bind(real(value)?),
                _ => query.bind(None::<i64>),
            };
        }
        let found = query
            .fetch_all(&mut *self.database)
            .await
            .map_err(during("look for a row"))?;
        let free = |here: &i64| !self.claimed.contains(&(table.name.clone(), *here));
        Ok(found.into_iter().find(free))
    }

    /// A player is the one added at the same instant under the same name, also where the name was made longer here.
    async fn player_there(&mut self, row: &Row, name: &str) -> Result<Option<i64>, StoreError> {
        let found: Vec<(i64, String)> =
            sqlx::query_as("SELECT id, name FROM players WHERE added_at = ? ORDER BY id")
                .bind(text(row, "added_at")?)
                .fetch_all(&mut *self.database)
                .await
                .map_err(during("look for a player"))?;
        let same = |here: &(i64, String)| here.1 == name || stem(&here.1) == name;
        Ok(found.into_iter().find(same).map(|(id, _)| id))
    }

    /// The name, or "name (2)" where somebody else has it.
    async fn free_name(&mut self, name: &str) -> Result<String, StoreError> {
        let mut free = name.to_owned();
        for number in 2.. {
            let taken: i64 = sqlx::query_scalar("SELECT count(*) FROM players WHERE name = ?")
                .bind(free.clone())
                .fetch_one(&mut *self.database)
                .await
                .map_err(during("look for a player"))?;
            if taken == 0 {
                break;
            }
            free = format!("{name} ({number})");
        }
        Ok(free)
    }

    async fn insert(&mut self, table: &Table, row: &Row) -> Result<i64, StoreError> {
        let given: Vec<_> = table
            .columns
            .iter()
            .filter(|column| Some(column.name.as_str()) != table.key())
            .filter_map(|column| Some((column, row.get(&column.name)?)))
            .collect();
        let names: Vec<String> = given
            .iter()
            .map(|(column, _)| format!("\"{}\"", column.name))
            .collect();
        let text = format!(
            "INSERT INTO \"{}\" ({}) VALUES ({})",
            table.name,
            names.join(", "),
            vec!["?"; names.len()].join(", ")
        );
        let mut query = sqlx::query(AssertSqlSafe(text));
        for (column, value) in given {
            let wrong = || bad(format!("{}.{} can't be {value}", table.name, column.name));
            query = match (column.kind.as_str(), value) {
                (_, Value::Null) => query.bind(None::<i64>),
                ("INTEGER", Value::Number(number)) => {
                    query.bind(number.as_i64().ok_or_else(wrong)?)
                }
                ("TEXT", Value::String(text)) => query.bind(text.clone()),
                ("REAL", value) => query.bind(real(value)?),
                ("BLOB", value) => self.bytes(query, value).await?,
                _ => return Err(wrong()),
            };
        }
        let done = query.execute(&mut *self.database).await;
        let done = done.map_err(|source| match &source {
            sqlx::Error::Database(error) => {
                bad(format!("a row of {} is not whole: {error}", table.name))
            }
            _ => during("bring records in")(source),
        })?;
        Ok(done.last_insert_rowid())
    }

    async fn bytes(&self, query: Query, value: &Value) -> Result<Query, StoreError> {
        let path = value["file"]
            .as_str()
            .ok_or_else(|| bad("bytes without a file".into()))?;
        Ok(query.bind(media::read(self.staged.join(plain(path)?)).await?))
    }

    /// What players who are new here are held against, now that their swings have keys.
    async fn own_swings(&mut self, records: &Records) -> Result<(), StoreError> {
        for row in records.rows(PLAYERS) {
            let old = row.get("id").and_then(Value::as_i64).unwrap_or_default();
            let new = self
                .keys
                .get(&(PLAYERS.into(), old))
                .copied()
                .unwrap_or_default();
            let is_new = self
                .brought
                .players
                .iter()
                .any(|player| player.id.0 == new && player.new);
            let Some(Value::String(chosen)) = row.get("reference").filter(|_| is_new) else {
                continue;
            };
            let chosen: ReferenceChoice = json(chosen)?;
            let chosen = match chosen {
                ReferenceChoice::OwnSwing(old) => {
                    let swing = self.keys.get(&("swings".into(), old));
                    swing.map_or(ReferenceChoice::Standard, |new| {
                        ReferenceChoice::OwnSwing(*new)
                    })
                }
                other => other,
            };
            let text = serde_json::to_string(&chosen).map_err(|error| bad(error.to_string()))?;
            sqlx::query("UPDATE players SET reference = ? WHERE id = ?")
                .bind(text)
                .bind(new)
                .execute(&mut *self.database)
                .await
                .map_err(during("note what a player is held against"))?;
        }
        Ok(())
    }
}

/// A lesson's file is named after the lesson's key.
fn renamed(name: &str, keys: &Keys) -> String {
    let rest = name
        .strip_prefix("lesson-")
        .and_then(|rest| rest.split_once('.'));
    let new = rest.and_then(|(old, ending)| {
        let new = keys.get(&("lessons".into(), old.parse().ok()?))?;
        Some(format!("lesson-{new}.{ending}"))
    });
    new.unwrap_or_else(|| name.to_owned())
}

/// "Name" of "Name (2)".
fn stem(name: &str) -> &str {
    let longer = name
        .strip_suffix(')')
        .and_then(|name| name.rsplit_once(" ("));
    match longer {
        Some((stem, number)) if number.bytes().all(|b| b.is_ascii_digit()) => stem,
        _ => name,
    }
}

fn text(row: &Row, column: &str) -> Result<String, StoreError> {
    let value = row.get(column).and_then(Value::as_str);
    value
        .map(str::to_owned)
        .ok_or_else(|| bad(format!("a row without \"{column}\"")))
}

fn real(value: &Value) -> Result<f64, StoreError> {
    let number = value["real"].as_str().and_then(|text| text.parse().ok());
    number
        .filter(|number: &f64| number.is_finite())
        .ok_or_else(|| bad(format!("{value} is no number")))
}

/// Refuses what could not be read back, before it is in.
fn check(table: &Table, row: &Row) -> Result<(), StoreError> {
    let strange = row
        .keys()
        .find(|name| !table.columns.iter().any(|column| column.name == **name));
    if let Some(strange) = strange {
        return Err(bad(format!("{} has no \"{strange}\" here", table.name)));
    }
    for (column, value) in row {
        let Value::String(text) = value else { continue };
        match (table.name.as_str(), column.as_str()) {
            (PLAYERS, "limits" | "goals") => drop(json::<Vec<String>>(text)?),
            (PLAYERS, "screening") => drop(json::<Screening>(text)?),
            (PLAYERS, "practice") => drop(json::<Practice>(text)?),
            (PLAYERS, "reference") => drop(json::<ReferenceChoice>(text)?),
            ("clips", "facts") => drop(json::<ClipFacts>(text)?),
            ("clips" | "lesson_files", "path") if plain(text)?.components().count() != 1 => {
                return Err(bad(format!("\"{text}\" is no file's name")));
            }
            ("analyses", "analysis") => drop(json::<SwingAnalysis>(text)?),
            ("briefs", "brief") => drop(json::<Brief>(text)?),
            ("corrections", "corrections") => drop(json::<Corrections>(text)?),
            (_, at) if at.ends_with("_at") => {
                text.parse::<Timestamp>()
                    .map_err(|error| bad(error.to_string()))?;
            }
            _ => {}
        }
    }
    Ok(())
}

fn json<T: DeserializeOwned>(text: &str) -> Result<T, StoreError> {
    serde_json::from_str(text).map_err(|error| bad(error.to_string()))
}
