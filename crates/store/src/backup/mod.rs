//! The whole studio as one file, and a studio from such a file. The file is a ZIP, its parts as they are: the database
//! as it was at one instant, clips and lesson files, the professional's own tables and drills, and `backup.json`, which names
//! each part with its SHA-256. Pictures and landmarks, which are made again, are left out.

mod archive;
mod restore;

pub use restore::{Restored, restore};

use crate::error::{StoreError, during};
use crate::media::{self, failed};
use crate::records::schema;
use crate::store::{DATABASE, Store};
use archive::{Source, check, write};
use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions, Connection};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// The part that names the others.
const CONTENTS: &str = "backup.json";

/// Raised when an older program could not restore what is written.
const VERSION: u32 = 1;

/// Folders of the studio that are not made again. Beside them every `.toml` file is the professional's own.
const OWN_FOLDERS: [&str; 2] = ["media", "drills"];

/// How often the database is copied afresh because films were erased meanwhile.
const TRIES: usize = 3;

/// What a backup holds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct Contents {
    version: u32,
    schema: i64,
    program_version: String,
    made_at: Timestamp,
    parts: Vec<Part>,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct Part {
    /// Relative to the studio's folder, with `/`.
    path: String,
    bytes: u64,
    sha256: String,
}

/// A backup that was written and read again.
#[derive(Clone, Debug, PartialEq)]
pub struct BackedUp {
    /// The file's bytes.
    pub bytes: u64,
    /// Files in it, the database included.
    pub files: usize,
    /// Clips that the database names and the disk no longer has.
    pub missing: Vec<String>,
}

impl Store {
    /// Writes the studio into one new file, while others use it, and reads the file again. `report` takes the share done
    /// in 0..=1.
    ///
    /// # Errors
    /// If there is such a file already, the disk fails, or what was written does not read back.
    pub async fn back_up(
        &self,
        to: &Path,
        program_version: &str,
        made_at: Timestamp,
        report: impl Fn(f64) + Send + Sync + Clone + 'static,
    ) -> Result<BackedUp, StoreError> {
        if to.exists() {
            return Err(StoreError::Backup(format!(
                "{} is there already: name another file",
                to.display()
            )));
        }
        let copy = self
            .folder()
            .join(format!("backup-{}.db", std::process::id()));
        let done = self
            .backed_up(to, &copy, program_version, made_at, report)
            .await;
        media::remove_file(&copy).await?;
        done
    }

    async fn backed_up(
        &self,
        to: &Path,
        copy: &Path,
        program_version: &str,
        made_at: Timestamp,
        report: impl Fn(f64) + Send + Sync + Clone + 'static,
    ) -> Result<BackedUp, StoreError> {
        let part = PathBuf::from(format!("{}.part", to.display()));
        let mut tries = 0;
        loop {
            tries += 1;
            self.copy_database(copy).await?;
            let (schema, named) = named_files(copy).await?;
            let mut sources = vec![Source {
                path: DATABASE.into(),
                file: copy.into(),
            }];
            sources.extend(own_files(self.folder())?);
            let contents = Contents {
                version: VERSION,
                schema,
                program_version: program_version.into(),
                made_at,
                parts: Vec::new(),
            };
            let (writing, report) = (part.clone(), report.clone());
            let written = media::blocking(move || {
                let parts = write(&writing, contents, &sources, &|share| report(share * 0.6))?;
                check(&writing, &|share| report(0.6 + share * 0.4))?;
                Ok::<_, StoreError>(parts)
            })
            .await;
            let parts = match written {
                Ok(parts) => parts,
                Err(error) => {
                    media::remove_file(&part).await?;
                    return Err(error);
                }
            };
            let held: BTreeSet<&str> = parts.iter().map(|part| part.path.as_str()).collect();
            let missing: Vec<String> = named
                .into_iter()
                .filter(|name| !held.contains(name.as_str()))
                .collect();
            // Erased between the copy of the database and that of the films: what was erased is not to stay in the copy.
            if !missing.is_empty() && tries < TRIES {
                continue;
            }
            let bytes = fs::metadata(&part).map_err(failed("read", &part))?.len();
            media::take_in_place(part, to.into()).await?;
            return Ok(BackedUp {
                bytes,
                files: parts.len(),
                missing,
            });
        }
    }

    /// The database as it is at this instant, in a file of its own.
    async fn copy_database(&self, to: &Path) -> Result<(), StoreError> {
        media::remove_file(to).await?;
        sqlx::query("VACUUM INTO ?")
            .bind(to.to_string_lossy().into_owned())
            .execute(&self.pool)
            .await
            .map_err(during("copy itself"))?;
        Ok(())
    }
}

/// The version of a database's tables, and the paths of all files that its rows name.
async fn named_files(database: &Path) -> Result<(i64, Vec<String>), StoreError> {
    let failed = || during("list its files");
    let options = SqliteConnectOptions::new()
        .filename(database)
        .read_only(true);
    let mut look = options.connect().await.map_err(failed())?;
    let schema = schema(&mut look).await?;
    let named = sqlx::query_scalar(
        "SELECT 'media/' || swing_id || '/' || path FROM clips
         UNION ALL
         SELECT 'media/' || swing_id || '/' || path FROM lesson_files
         JOIN lessons ON lessons.id = lesson_id JOIN analyses ON analyses.id = analysis_id
         ORDER BY 1",
    )
    .fetch_all(&mut look)
    .await
    .map_err(failed())?;
    look.close().await.map_err(failed())?;
    Ok((schema, named))
}

/// The professional's own files and what belongs to players, sorted; without what is made again and copies under way.
fn own_files(folder: &Path) -> Result<Vec<Source>, StoreError> {
    let mut all = Vec::new();
    for entry in media::entries(folder)? {
        let name = entry.file_name().to_string_lossy().into_owned();
        if OWN_FOLDERS.contains(&name.as_str()) {
            walk(&entry.path(), &name, &mut all)?;
        } else if is_own(&name) {
            all.push(Source {
                path: name,
                file: entry.path(),
            });
        }
    }
    all.sort_by(|a, b| a.path.cmp(&b.path));
    Ok(all)
}

/// A table of the professional's own, in the studio's folder.
fn is_own(name: &str) -> bool {
    name.ends_with(".toml")
}

fn walk(folder: &Path, path: &str, all: &mut Vec<Source>) -> Result<(), StoreError> {
    for entry in media::entries(folder)? {
        let name = entry.file_name().to_string_lossy().into_owned();
        let kind = entry.file_type().map_err(failed("read", folder))?;
        let path = format!("{path}/{name}");
        if kind.is_dir() && name != crate::frames::FOLDER {
            walk(&entry.path(), &path, all)?;
        } else if kind.is_file() && !name.ends_with(".part") {
            all.push(Source {
                path,
                file: entry.path(),
            });
        }
    }
    Ok(())
}
