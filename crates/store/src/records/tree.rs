//! Which tables belong to players, read from the database's own references.

use crate::error::{StoreError, during};
use sqlx::Row;
use sqlx::sqlite::SqliteConnection;

/// The table that all others lead to.
pub const PLAYERS: &str = "players";

/// Tables that lead to players and are yet no record of theirs: what triggers make of other tables, and clips that are
/// still on their way in, mails on their way out, and what nobody read yet. `search` and its shadows are made by triggers too.
const NO_RECORD: [&str; 7] = [
    "standings",
    "follow_changes",
    "arrivals",
    "phone_links",
    "swing_works",
    "mails",
    "unread_answers",
];

/// A table whose rows belong to players.
#[derive(Clone, Debug)]
pub struct Table {
    pub name: String,
    pub columns: Vec<Column>,
    /// Columns that hold the key of a row of another table of the tree: column → table.
    pub references: Vec<(String, String)>,
}

#[derive(Clone, Debug)]
pub struct Column {
    pub name: String,
    /// INTEGER, REAL, TEXT or BLOB: the tables are strict.
    pub kind: String,
    /// Part of the primary key.
    pub in_key: bool,
}

impl Table {
    /// The column that names a row and nothing else; none where rows are named by what they belong to.
    pub fn key(&self) -> Option<&str> {
        let mut keys = self.columns.iter().filter(|column| column.in_key);
        let (first, second) = (keys.next()?, keys.next());
        let own = second.is_none()
            && first.kind == "INTEGER"
            && !self
                .references
                .iter()
                .any(|(column, _)| *column == first.name);
        own.then_some(first.name.as_str())
    }

    /// By which columns a row is told to be there already: what it belongs to and when it was made. What can change
    /// later is not among them.
    pub fn identity(&self) -> Vec<&str> {
        let known: &[&str] = match self.name.as_str() {
            "swings" => &["player_id", "added_at"],
            "clips" => &["swing_id", "view"],
            "analyses" => &["swing_id", "computed_at"],
            "lessons" => &["analysis_id", "drafted_at"],
            "corrections" => &["swing_id", "made_at"],
            "prescriptions" => &["player_id", "lesson_id", "drill", "given_on"],
            "taken_in" => &["player_id", "sha256"],
            _ => &[],
        };
        let key = self.key();
        let unknown = self.columns.iter().filter(|column| match key {
            Some(key) => column.name != key && column.kind != "BLOB",
            None => column.in_key,
        });
        match known {
            [] => unknown.map(|column| column.name.as_str()).collect(),
            known => known.to_vec(),
        }
    }
}

/// Players first, every table after those that it refers to.
pub async fn tree(database: &mut SqliteConnection) -> Result<Vec<Table>, StoreError> {
    let failed = || during("look at its tables");
    let names: Vec<String> = sqlx::query_scalar(
        "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\' ORDER BY name",
    )
    .fetch_all(&mut *database)
    .await
    .map_err(failed())?;
    let mut waiting = Vec::new();
    for name in names {
        if NO_RECORD.contains(&name.as_str()) || name.starts_with("search") {
            continue;
        }
        let columns = sqlx::query("SELECT name, type, pk FROM pragma_table_info(?) ORDER BY cid")
            .bind(&name)
            .fetch_all(&mut *database)
            .await
            .map_err(failed())?;
        let references =
            sqlx::query("SELECT \"from\", \"table\" FROM pragma_foreign_key_list(?) ORDER BY id")
                .bind(&name)
                .fetch_all(&mut *database)
                .await
                .map_err(failed())?;
        waiting.push(Table {
            name,
            columns: columns
                .iter()
                .map(|row| Column {
                    name: row.get(0),
                    kind: row.get(1),
                    in_key: row.get::<i64, _>(2) > 0,
                })
                .collect(),
            references: references
                .iter()
                .map(|row| (row.get(0), row.get(1)))
                .collect(),
        });
    }
    Ok(ordered(waiting))
}

fn ordered(mut waiting: Vec<Table>) -> Vec<Table> {
    let mut tree: Vec<Table> = Vec::new();
    loop {
        let in_tree = |name: &String| tree.iter().any(|table| table.name == *name);
        let next = waiting.iter().position(|table| {
            let others = || {
                table
                    .references
                    .iter()
                    .map(|(_, to)| to)
                    .filter(|to| **to != table.name)
            };
            table.name == PLAYERS || (others().next().is_some() && others().all(in_tree))
        });
        match next {
            Some(place) => tree.push(waiting.remove(place)),
            None => return tree,
        }
    }
}
