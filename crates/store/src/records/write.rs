//! Rows and files out.

use super::tree::{Column, PLAYERS, Table, tree};
use super::{KeptFile, RECORDS_FILE, Records, Row, VERSION};
use crate::error::{StoreError, during};
use crate::media;
use crate::rows::{PlayerId, SwingId};
use crate::store::Store;
use serde_json::{Value, json};
use sqlx::sqlite::{SqliteConnection, SqliteRow};
use sqlx::{AssertSqlSafe, Row as _};
use std::collections::BTreeMap;
use std::path::Path;

impl Store {
    /// Writes everything that is kept of these players into a folder: [`RECORDS_FILE`], the clips and lesson files in
    /// `swings/<swing>/`, lesson pages in `lessons/`. Pictures that are made again when they are looked at are left out.
    /// `report` takes the share done in 0..=1.
    ///
    /// # Errors
    /// If the database fails, a film is gone, or the folder can't be written.
    pub async fn write_records(
        &self,
        players: &[PlayerId],
        folder: &Path,
        report: &(dyn Fn(f64) + Send + Sync),
    ) -> Result<(), StoreError> {
        media::create_folder(folder).await?;
        // One look at the database: what is written belongs together.
        let mut look = self.pool.begin().await.map_err(during("read its rows"))?;
        let mut files = Vec::new();
        let tables = rows(&mut look, players, folder, &mut files).await?;
        let schema = schema(&mut look).await?;
        look.commit().await.map_err(during("read its rows"))?;
        let swings: Vec<i64> = tables["swings"]
            .iter()
            .filter_map(|row| row["id"].as_i64())
            .collect();
        for (done, swing) in swings.iter().enumerate() {
            report(done as f64 / swings.len() as f64);
            self.copy_media(SwingId(*swing), folder, &mut files).await?;
        }
        files.sort_by(|a, b| a.path.cmp(&b.path));
        let records = Records {
            version: VERSION,
            schema,
            tables,
            files,
        };
        let text =
            serde_json::to_vec_pretty(&records).map_err(|source| StoreError::Unreadable {
                what: "the rows of the players".into(),
                source: source.into(),
            })?;
        let part = media::write(text, folder.join(RECORDS_FILE)).await?;
        part.settle().await?;
        report(1.0);
        Ok(())
    }

    async fn copy_media(
        &self,
        swing: SwingId,
        folder: &Path,
        files: &mut Vec<KeptFile>,
    ) -> Result<(), StoreError> {
        for name in media::files_in(self.media_folder(swing)).await? {
            let path = format!("swings/{swing}/{name}");
            let from = self.media_folder(swing).join(&name);
            let part = media::copy(from, folder.join(&path)).await?;
            let sha256 = part.sha256.clone();
            part.settle().await?;
            files.push(KeptFile { path, sha256 });
        }
        Ok(())
    }
}

/// The latest migration.
pub async fn schema(database: &mut SqliteConnection) -> Result<i64, StoreError> {
    sqlx::query_scalar("SELECT max(version) FROM _sqlx_migrations")
        .fetch_one(database)
        .await
        .map_err(during("look at its version"))
}

async fn rows(
    database: &mut SqliteConnection,
    players: &[PlayerId],
    folder: &Path,
    files: &mut Vec<KeptFile>,
) -> Result<BTreeMap<String, Vec<Row>>, StoreError> {
    let mut kept: BTreeMap<String, Vec<i64>> = BTreeMap::new();
    kept.insert(
        PLAYERS.into(),
        players.iter().map(|player| player.0).collect(),
    );
    let mut all = BTreeMap::new();
    for table in tree(database).await? {
        let found = sqlx::query(AssertSqlSafe(selection(&table, &kept)))
            .fetch_all(&mut *database)
            .await
            .map_err(during("read its rows"))?;
        let mut rows = Vec::new();
        for row in &found {
            let mut values = Row::new();
            for column in &table.columns {
                let value = match column.kind.as_str() {
                    "BLOB" => bytes_out(database, &table, column, row, folder, files).await?,
                    _ => value(row, column),
                };
                values.insert(column.name.clone(), value);
            }
            rows.push(values);
        }
        if let Some(key) = table.key() {
            let keys = rows.iter().filter_map(|row| row[key].as_i64());
            kept.insert(table.name.clone(), keys.collect());
        }
        all.insert(table.name.clone(), rows);
    }
    Ok(all)
}

/// Rows whose references all lead to rows that are kept.
fn selection(table: &Table, kept: &BTreeMap<String, Vec<i64>>) -> String {
    let keys = |table: &str| {
        let keys: Vec<String> = kept
            .get(table)
            .into_iter()
            .flatten()
            .map(i64::to_string)
            .collect();
        keys.join(",")
    };
    let columns: Vec<String> = table
        .columns
        .iter()
        .filter(|column| column.kind != "BLOB")
        .map(|column| format!("\"{}\"", column.name))
        .collect();
    let condition = match table.name.as_str() {
        PLAYERS => format!("id IN ({})", keys(PLAYERS)),
        _ => {
            let all = table.references.iter().map(|(column, to)| {
                format!("(\"{column}\" IS NULL OR \"{column}\" IN ({}))", keys(to))
            });
            let some = table
                .references
                .iter()
                .map(|(column, _)| format!("\"{column}\" IS NOT NULL"));
            let (all, some): (Vec<_>, Vec<_>) = (all.collect(), some.collect());
            format!("{} AND ({})", all.join(" AND "), some.join(" OR "))
        }
    };
    format!(
        "SELECT rowid AS its_rowid, {} FROM \"{}\" WHERE {condition} ORDER BY rowid",
        columns.join(", "),
        table.name
    )
}

fn value(row: &SqliteRow, column: &Column) -> Value {
    let name = column.name.as_str();
    match column.kind.as_str() {
        "INTEGER" => row
            .get::<Option<i64>, _>(name)
            .map_or(Value::Null, Value::from),
        // As text: the shortest that reads back as the same number.
        "REAL" => row.get::<Option<f64>, _>(name).map_or(
            Value::Null,
            |number| json!({ "real": format!("{number:?}") }),
        ),
        _ => row
            .get::<Option<String>, _>(name)
            .map_or(Value::Null, Value::from),
    }
}

/// Bytes go into a file of their own, one at a time.
async fn bytes_out(
    database: &mut SqliteConnection,
    table: &Table,
    column: &Column,
    row: &SqliteRow,
    folder: &Path,
    files: &mut Vec<KeptFile>,
) -> Result<Value, StoreError> {
    let rowid: i64 = row.get("its_rowid");
    let query = format!(
        "SELECT \"{}\" FROM \"{}\" WHERE rowid = ?",
        column.name, table.name
    );
    let bytes: Option<Vec<u8>> = sqlx::query_scalar(AssertSqlSafe(query))
        .bind(rowid)
        .fetch_one(database)
        .await
        .map_err(during("read its rows"))?;
    let Some(bytes) = bytes else {
        return Ok(Value::Null);
    };
    let path = match (table.name.as_str(), column.name.as_str()) {
        ("lessons", "page") => format!("lessons/lesson-{rowid}.html"),
        (table, column) => format!("{table}/{column}-{rowid}.bin"),
    };
    let part = media::write(bytes, folder.join(&path)).await?;
    let sha256 = part.sha256.clone();
    part.settle().await?;
    files.push(KeptFile {
        path: path.clone(),
        sha256,
    });
    Ok(json!({ "file": path }))
}
