//! A studio from a backup. It is unpacked and checked beside the studio first; what was there is moved aside, never
//! removed.

use super::archive::{backup, each, open};
use super::{OWN_FOLDERS, is_own};
use crate::error::{StoreError, during};
use crate::media::{self, failed};
use crate::store::{DATABASE, newest_schema};
use jiff::Timestamp;
use sqlx::sqlite::{SqliteConnectOptions, SqlitePoolOptions};
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// What was restored.
#[derive(Clone, Debug, PartialEq)]
pub struct Restored {
    /// When the backup was made.
    pub made_at: Timestamp,
    /// By which version of the program.
    pub program_version: String,
    /// Files, the database included.
    pub files: usize,
    /// Where the studio that was here before lies now; none if there was none.
    pub before: Option<PathBuf>,
}

/// Puts a backup into a studio's folder. A studio that is there is left alone, unless `replace` says otherwise: then it
/// is moved into a folder named after that instant. `report` takes the share done in 0..=1.
///
/// # Errors
/// If the file is damaged or of a later version, there is a studio and `replace` is none, another program has it open,
/// or the disk fails.
pub async fn restore(
    from: &Path,
    folder: &Path,
    replace: Option<Timestamp>,
    report: impl Fn(f64) + Send + Sync + 'static,
) -> Result<Restored, StoreError> {
    let there = folder.join(DATABASE).exists();
    if there && replace.is_none() {
        return Err(StoreError::Backup(format!(
            "there is a studio in {}: name another folder, or say that it is to be replaced (--replace moves it aside)",
            folder.display()
        )));
    }
    if there {
        nobody_has_it_open(folder).await?;
    }
    let beside = folder.join(format!("restoring-{}", std::process::id()));
    let (archive, unpacked) = (from.to_path_buf(), beside.clone());
    let done = media::blocking(move || unpack(&archive, &unpacked, &report)).await;
    let restored = match done {
        Ok(restored) => checked(&beside).await.map(|()| restored),
        error => error,
    };
    let mut restored = match restored {
        Ok(restored) => restored,
        Err(error) => {
            media::remove_folder(&beside).await?;
            return Err(error);
        }
    };
    if let (true, Some(at)) = (there, replace) {
        let aside = folder.join(format!("before-restore-{}", at.strftime("%Y%m%dT%H%M%SZ")));
        move_studio(folder, &aside)?;
        restored.before = Some(aside);
    }
    move_studio(&beside, folder)?;
    media::remove_folder(&beside).await?;
    Ok(restored)
}

fn unpack(from: &Path, to: &Path, report: &dyn Fn(f64)) -> Result<Restored, StoreError> {
    let (_, contents) = open(from)?;
    if contents.schema > newest_schema() {
        return Err(StoreError::TooNew { path: from.into() });
    }
    if !contents.parts.iter().any(|part| part.path == DATABASE) {
        return Err(backup(from, "there is no database in it"));
    }
    let foreign = contents.parts.iter().find(|part| {
        let first = part.path.split('/').next().unwrap_or_default();
        !(part.path == DATABASE || OWN_FOLDERS.contains(&first) || is_own(&part.path))
    });
    if let Some(foreign) = foreign {
        return Err(backup(
            from,
            format!("{} belongs to no studio", foreign.path),
        ));
    }
    each(from, report, |part| {
        let path = to.join(crate::records::plain(&part.path)?);
        let parent = path.parent().unwrap_or(to);
        fs::create_dir_all(parent).map_err(failed("make the folder", parent))?;
        Ok(Box::new(
            File::create(&path).map_err(failed("write", &path))?,
        ))
    })?;
    Ok(Restored {
        made_at: contents.made_at,
        program_version: contents.program_version,
        files: contents.parts.len(),
        before: None,
    })
}

/// Asks the database itself whether it is whole.
async fn checked(folder: &Path) -> Result<(), StoreError> {
    let file = folder.join(DATABASE);
    let options = SqliteConnectOptions::new().filename(&file);
    let pool = SqlitePoolOptions::new()
        .connect_with(options)
        .await
        .map_err(during("open it"))?;
    let said: String = sqlx::query_scalar("PRAGMA integrity_check")
        .fetch_one(&pool)
        .await
        .map_err(during("check itself"))?;
    pool.close().await;
    match said.as_str() {
        "ok" => Ok(()),
        _ => Err(backup(&file, said)),
    }
}

/// In write-ahead mode the database can be locked for one alone only while nobody else has it open.
async fn nobody_has_it_open(folder: &Path) -> Result<(), StoreError> {
    let options = SqliteConnectOptions::new()
        .filename(folder.join(DATABASE))
        .locking_mode(sqlx::sqlite::SqliteLockingMode::Exclusive)
        .busy_timeout(Duration::from_millis(200));
    let opened = async {
        let pool = SqlitePoolOptions::new()
            .max_connections(1)
            .connect_with(options)
            .await?;
        sqlx::query("BEGIN EXCLUSIVE").execute(&pool).await?;
        sqlx::query("ROLLBACK").execute(&pool).await?;
        pool.close().await;
        Ok::<_, sqlx::Error>(())
    };
    opened.await.map_err(|_| {
        StoreError::Backup(format!(
            "the studio in {} is open in another program: close it first",
            folder.display()
        ))
    })
}

/// All that belongs to a studio, from one folder to another on the same disk.
fn move_studio(from: &Path, to: &Path) -> Result<(), StoreError> {
    fs::create_dir_all(to).map_err(failed("make the folder", to))?;
    for entry in media::entries(from)? {
        let name = entry.file_name().to_string_lossy().into_owned();
        let belongs =
            name.starts_with(DATABASE) || OWN_FOLDERS.contains(&name.as_str()) || is_own(&name);
        if belongs {
            fs::rename(entry.path(), to.join(&name)).map_err(failed("move", &entry.path()))?;
        }
    }
    Ok(())
}
