//! Everything that is kept of players, as files that this program reads back: `records.json` holds the rows,
//! the files beside it what belongs to them. What is brought in again is the same, row by row and byte by byte;
//! keys are given anew, nothing that is here is changed, and the same files a second time add nothing.
//!
//! Which tables belong to a player is read from the database's own references: a table that leads to `players` is in.

mod bring;
mod tree;
mod write;

pub use bring::{Brought, BroughtPlayer};
pub(crate) use write::schema;

use crate::error::StoreError;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::collections::BTreeMap;
use std::path::{Component, Path, PathBuf};

/// The file with the rows.
pub const RECORDS_FILE: &str = "records.json";

/// Raised when an older program could not read what is written.
const VERSION: u32 = 1;

/// Most bytes of a `records.json`: analyses are some 50 kB each.
const MOST_RECORDS_BYTES: u64 = 1 << 30;

/// A row: column → value. Integers and text as they are, `{"real": "1.81"}` for a fraction, `{"file": "lessons/…"}`
/// for bytes, null for what is not known.
type Row = Map<String, Value>;

/// The rows of some players.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Records {
    /// Of this form.
    version: u32,
    /// Of the tables.
    schema: i64,
    /// Rows by table.
    tables: BTreeMap<String, Vec<Row>>,
    /// What lies beside, with paths relative to the folder.
    files: Vec<KeptFile>,
}

/// A file beside the rows.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct KeptFile {
    /// With `/` between its parts.
    path: String,
    sha256: String,
}

impl Records {
    /// Reads `records.json` of a folder.
    fn read(folder: &Path, own_schema: i64) -> Result<Records, StoreError> {
        let path = folder.join(RECORDS_FILE);
        let reading = |source| StoreError::File {
            action: "read",
            path: path.clone(),
            source,
        };
        let length = std::fs::metadata(&path).map_err(reading)?.len();
        if length > MOST_RECORDS_BYTES {
            return Err(bad(format!("it has {length} bytes, more than any studio")));
        }
        let bytes = std::fs::read(&path).map_err(reading)?;
        let records: Records =
            serde_json::from_slice(&bytes).map_err(|error| bad(error.to_string()))?;
        if records.version > VERSION || records.schema > own_schema {
            return Err(bad(
                "it was written by a later version of lessonwright: install that version".into(),
            ));
        }
        for file in &records.files {
            plain(&file.path)?;
        }
        Ok(records)
    }

    fn rows(&self, table: &str) -> &[Row] {
        self.tables.get(table).map_or(&[], Vec::as_slice)
    }
}

/// A path that stays in the folder.
pub(crate) fn plain(path: &str) -> Result<PathBuf, StoreError> {
    let parts: Vec<_> = Path::new(path).components().collect();
    let inside = |part: &Component<'_>| matches!(part, Component::Normal(_));
    if parts.is_empty() || !parts.iter().all(inside) || path.contains('\\') {
        return Err(bad(format!("\"{path}\" does not lie in the folder")));
    }
    Ok(parts.iter().collect())
}

fn bad(why: String) -> StoreError {
    StoreError::BadRecords(why)
}
