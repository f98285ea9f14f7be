//! Opening the store: the folder, the database's settings, migrations, and what was left half done.

use crate::error::{StoreError, during};
use crate::media;
use crate::rows::SwingId;
use sqlx::SqlitePool;
use sqlx::migrate::{MigrateError, Migrator};
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqlitePoolOptions, SqliteSynchronous};
use std::path::{Path, PathBuf};
use std::time::Duration;

static MIGRATIONS: Migrator = sqlx::migrate!("./migrations");

/// The database's file in the store's folder.
pub const DATABASE: &str = "lessonwright.db";

/// The tables that this version makes.
pub fn newest_schema() -> i64 {
    let versions = MIGRATIONS.iter().map(|migration| migration.version);
    versions.max().unwrap_or_default()
}

/// How long a write waits for another program's write to end. A lesson page is written in far less.
const BUSY_TIMEOUT: Duration = Duration::from_secs(10);

/// A folder with the database and the media. Clones share its connections.
#[derive(Clone, Debug)]
pub struct Store {
    pub(crate) pool: SqlitePool,
    folder: PathBuf,
}

impl Store {
    /// Opens the store in `folder`, which is made if it is not there. Brings the tables up to date
    /// and ends erasures that were cut short.
    ///
    /// # Errors
    /// If the folder can't be made, or the database is damaged or from a later version.
    pub async fn open(folder: &Path) -> Result<Store, StoreError> {
        media::create_folder(folder).await?;
        let file = folder.join(DATABASE);
        let options = SqliteConnectOptions::new()
            .filename(&file)
            .create_if_missing(true)
            .journal_mode(SqliteJournalMode::Wal)
            .synchronous(SqliteSynchronous::Full)
            .foreign_keys(true)
            .busy_timeout(BUSY_TIMEOUT)
            // Erased rows are overwritten with zeros.
            .pragma("secure_delete", "ON");
        let pool = SqlitePoolOptions::new()
            .connect_with(options)
            .await
            .map_err(during("open it"))?;
        MIGRATIONS.run(&pool).await.map_err(|source| match source {
            MigrateError::VersionMissing(_) => StoreError::TooNew { path: file },
            source => StoreError::Migration { path: file, source },
        })?;
        let store = Store {
            pool,
            folder: folder.to_path_buf(),
        };
        store.finish_erasures().await?;
        store.sweep_arrivals().await?;
        Ok(store)
    }

    /// Ends all connections. Nothing is lost without it; it tidies the write-ahead log.
    pub async fn close(self) {
        self.pool.close().await;
    }

    /// The store's folder.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// The folder of a swing's clips.
    pub(crate) fn media_folder(&self, swing: SwingId) -> PathBuf {
        self.media_root().join(swing.to_string())
    }

    pub(crate) fn media_root(&self) -> PathBuf {
        self.folder.join("media")
    }

    /// Removes the media of erased players, then forgets that it had to, then empties the
    /// write-ahead log, in which erased rows could still be read.
    pub(crate) async fn finish_erasures(&self) -> Result<(), StoreError> {
        let swings: Vec<i64> =
            sqlx::query_scalar("SELECT swing_id FROM erasures ORDER BY swing_id")
                .fetch_all(&self.pool)
                .await
                .map_err(during("list what is to be erased"))?;
        if swings.is_empty() {
            return Ok(());
        }
        for swing in swings {
            media::remove_folder(&self.media_folder(SwingId(swing))).await?;
            sqlx::query("DELETE FROM erasures WHERE swing_id = ?")
                .bind(swing)
                .execute(&self.pool)
                .await
                .map_err(during("note that a film is erased"))?;
        }
        self.empty_log().await
    }

    pub(crate) async fn empty_log(&self) -> Result<(), StoreError> {
        sqlx::query("PRAGMA wal_checkpoint(TRUNCATE)")
            .execute(&self.pool)
            .await
            .map_err(during("empty its log"))?;
        Ok(())
    }
}
