//! Arrivals: clips that were brought in and wait to become part of a swing. Each is a file in the folder
//! `arrivals` and a row; nothing is lost between the two: the file is there first.

use crate::error::{StoreError, during};
use crate::media;
use crate::players::{check_film_allowed, timestamp};
use crate::rows::PlayerId;
use crate::store::Store;
use crate::works::WorkId;
use jiff::Timestamp;
use lessonwright_model::{ClipNotes, View};
use sqlx::Row;
use sqlx::sqlite::SqliteRow;
use std::fmt;
use std::path::{Path, PathBuf};

/// Key of an arrival.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ArrivalId(pub i64);

/// Key of a phone's link.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LinkId(pub i64);

impl fmt::Display for ArrivalId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// How a clip came.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CameBy {
    /// Chosen or dropped on the studio's page.
    Page,
    /// From a phone on the local network.
    Phone,
    /// Out of a watched folder.
    Folder,
    /// Recorded by a camera of this machine.
    Camera,
    /// Typed.
    Command,
}

/// How far an arrival is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ArrivalState {
    /// The bytes are here.
    Arrived,
    /// It is a film that can be read, and its first picture is there.
    Opened,
    /// The golfer was followed through it.
    Watched,
    /// It can't be used; the trouble says why.
    Failed,
    /// The professional stopped the work on it.
    Stopped,
}

/// A clip to be taken in.
#[derive(Clone, Debug)]
pub struct NewArrival {
    /// Whose, if that is known.
    pub player: Option<PlayerId>,
    /// The phone's link it came by.
    pub link: Option<LinkId>,
    /// The name it came with.
    pub name: String,
    /// How it came.
    pub came_by: CameBy,
    /// Where the camera stood, if that was said.
    pub view: Option<View>,
}

/// A clip that was brought in.
#[derive(Clone, Debug, PartialEq)]
pub struct Arrival {
    /// Key.
    pub id: ArrivalId,
    /// Whose, if that is known.
    pub player: Option<PlayerId>,
    /// The phone's link it came by.
    pub link: Option<LinkId>,
    /// The work it is part of.
    pub work: Option<WorkId>,
    /// The name it came with.
    pub name: String,
    /// How it came.
    pub came_by: CameBy,
    /// Length of the file, bytes.
    pub bytes: u64,
    /// SHA-256 of the file, 64 hexadecimal digits.
    pub sha256: String,
    /// When the last byte was here.
    pub arrived_at: Timestamp,
    /// How far it is.
    pub state: ArrivalState,
    /// Why it is no further, and what to do.
    pub trouble: Option<String>,
    /// What the file says of itself, once it is opened.
    pub notes: Option<ClipNotes>,
    /// Where the camera stood, as said.
    pub view_said: Option<View>,
    /// Where the camera stood, as the picture shows.
    pub view_found: Option<View>,
    /// True if the professional said that it goes with no other.
    pub alone: bool,
    /// The file.
    pub path: PathBuf,
    /// Its first picture (JPEG), there once it is opened.
    pub picture: PathBuf,
}

impl Arrival {
    /// Where the camera stood: as said, else as found.
    pub fn view(&self) -> Option<View> {
        self.view_said.or(self.view_found)
    }
}

impl Store {
    /// Whether a clip of this player, if it is known whose it is, may be brought in.
    ///
    /// # Errors
    /// As [`Store::check_film_allowed`].
    pub async fn check_arrival_allowed(&self, player: Option<PlayerId>) -> Result<(), StoreError> {
        match player {
            Some(player) => check_film_allowed(&self.pool, player).await,
            None => Ok(()),
        }
    }

    /// Takes a copy of a whole file in. The file given stays where it is.
    ///
    /// # Errors
    /// For a minor without a guardian's consent, or if the file can't be copied or noted.
    pub async fn add_arrival(
        &self,
        file: &Path,
        new: &NewArrival,
        at: Timestamp,
    ) -> Result<ArrivalId, StoreError> {
        self.check_arrival_allowed(new.player).await?;
        let extension = media::extension(Path::new(&new.name));
        let folder = self.arrivals_folder();
        // Under a name that no row has yet: a cut leaves a file that the next opening sweeps.
        let part = media::copy(file.to_path_buf(), folder.join(format!("new.{extension}"))).await?;
        let bytes = part.bytes().await?;
        let failed = || during("note a clip that came");
        let mut change = self
            .pool
            .begin_with("BEGIN IMMEDIATE")
            .await
            .map_err(failed())?;
        let done = sqlx::query(
            "INSERT INTO arrivals (player_id, link_id, name, came_by, bytes, sha256, arrived_at, state, view_said)
             VALUES (?, ?, ?, ?, ?, ?, ?, 'arrived', ?)",
        )
        .bind(new.player.map(|id| id.0))
        .bind(new.link.map(|id| id.0))
        .bind(&new.name)
        .bind(came_by_key(new.came_by))
        .bind(i64::try_from(bytes).unwrap_or(i64::MAX))
        .bind(&part.sha256)
        .bind(at.to_string())
        .bind(new.view.map(view_key))
        .execute(&mut *change)
        .await
        .map_err(failed())?;
        let id = ArrivalId(done.last_insert_rowid());
        part.settle_at(folder.join(format!("{id}.{extension}")))
            .await?;
        change.commit().await.map_err(failed())?;
        Ok(id)
    }

    /// All arrivals, oldest first.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn arrivals(&self) -> Result<Vec<Arrival>, StoreError> {
        sqlx::query("SELECT * FROM arrivals ORDER BY id")
            .fetch_all(&self.pool)
            .await
            .map_err(during("list the clips that came"))?
            .iter()
            .map(|row| self.arrival_of(row))
            .collect()
    }

    /// One arrival.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn arrival(&self, id: ArrivalId) -> Result<Option<Arrival>, StoreError> {
        sqlx::query("SELECT * FROM arrivals WHERE id = ?")
            .bind(id.0)
            .fetch_optional(&self.pool)
            .await
            .map_err(during("look for a clip that came"))?
            .map(|row| self.arrival_of(&row))
            .transpose()
    }

    /// Notes how far an arrival is, and what is in its way.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn move_arrival(
        &self,
        id: ArrivalId,
        state: ArrivalState,
        trouble: Option<&str>,
    ) -> Result<(), StoreError> {
        sqlx::query("UPDATE arrivals SET state = ?, trouble = ? WHERE id = ?")
            .bind(state_key(state))
            .bind(trouble)
            .bind(id.0)
            .execute(&self.pool)
            .await
            .map_err(during("note how far a clip is"))?;
        Ok(())
    }

    /// Notes what an opened file says of itself.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn note_opened(&self, id: ArrivalId, notes: &ClipNotes) -> Result<(), StoreError> {
        let text = serde_json::to_string(notes).map_err(|source| StoreError::Unreadable {
            what: format!("what clip {id} says of itself"),
            source: source.into(),
        })?;
        sqlx::query("UPDATE arrivals SET state = 'opened', trouble = NULL, facts = ? WHERE id = ?")
            .bind(text)
            .bind(id.0)
            .execute(&self.pool)
            .await
            .map_err(during("note what a clip says of itself"))?;
        Ok(())
    }

    /// Notes that the golfer was followed, and from where.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn note_watched(&self, id: ArrivalId, view: Option<View>) -> Result<(), StoreError> {
        sqlx::query(
            "UPDATE arrivals SET state = 'watched', trouble = NULL, view_found = ? WHERE id = ?",
        )
        .bind(view.map(view_key))
        .bind(id.0)
        .execute(&self.pool)
        .await
        .map_err(during("note that a clip was watched"))?;
        Ok(())
    }

    /// Says whose a clip is.
    ///
    /// # Errors
    /// For a minor without a guardian's consent; if the database fails.
    pub async fn give_arrival(&self, id: ArrivalId, player: PlayerId) -> Result<(), StoreError> {
        self.check_arrival_allowed(Some(player)).await?;
        sqlx::query("UPDATE arrivals SET player_id = ? WHERE id = ? AND work_id IS NULL")
            .bind(player.0)
            .bind(id.0)
            .execute(&self.pool)
            .await
            .map_err(during("note whose a clip is"))?;
        Ok(())
    }

    /// Says from where a clip was filmed (none: as found), and whether it goes with no other.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn say_of_arrival(
        &self,
        id: ArrivalId,
        view: Option<View>,
        alone: bool,
    ) -> Result<(), StoreError> {
        sqlx::query("UPDATE arrivals SET view_said = ?, alone = ? WHERE id = ?")
            .bind(view.map(view_key))
            .bind(alone)
            .bind(id.0)
            .execute(&self.pool)
            .await
            .map_err(during("note what was said of a clip"))?;
        Ok(())
    }

    /// Forgets an arrival and removes its files. A file that it was copied from stays.
    ///
    /// # Errors
    /// If the database fails or a file can't be removed.
    pub async fn remove_arrival(&self, id: ArrivalId) -> Result<(), StoreError> {
        let Some(arrival) = self.arrival(id).await? else {
            return Ok(());
        };
        sqlx::query("DELETE FROM arrivals WHERE id = ?")
            .bind(id.0)
            .execute(&self.pool)
            .await
            .map_err(during("forget a clip that came"))?;
        media::remove_file(&arrival.path).await?;
        media::remove_file(&arrival.picture).await
    }

    /// Removes files of arrivals that no row speaks of: of erased players, or half copied when the program was cut.
    pub(crate) async fn sweep_arrivals(&self) -> Result<(), StoreError> {
        let failed = || during("list the clips that came");
        // With the write lock, so that a file another program just put there has its row.
        let mut quiet = self
            .pool
            .begin_with("BEGIN IMMEDIATE")
            .await
            .map_err(failed())?;
        let known: Vec<i64> = sqlx::query_scalar("SELECT id FROM arrivals")
            .fetch_all(&mut *quiet)
            .await
            .map_err(failed())?;
        let is_known = move |name: &str| {
            let number = name.split('.').next().unwrap_or_default();
            number.parse().is_ok_and(|id: i64| known.contains(&id))
        };
        media::sweep(&self.arrivals_folder(), is_known).await?;
        quiet.commit().await.map_err(failed())
    }

    /// True if a file of these bytes was taken out of a watched folder before.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn was_taken(&self, sha256: &str) -> Result<bool, StoreError> {
        let found: Option<i64> = sqlx::query_scalar("SELECT 1 FROM taken_files WHERE sha256 = ?")
            .bind(sha256)
            .fetch_optional(&self.pool)
            .await
            .map_err(during("look for a file that was taken"))?;
        Ok(found.is_some())
    }

    /// Notes that a file of a watched folder was taken.
    ///
    /// # Errors
    /// If the database fails.
    pub async fn note_taken(&self, sha256: &str, at: Timestamp) -> Result<(), StoreError> {
        sqlx::query("INSERT OR IGNORE INTO taken_files (sha256, taken_at) VALUES (?, ?)")
            .bind(sha256)
            .bind(at.to_string())
            .execute(&self.pool)
            .await
            .map_err(during("note that a file was taken"))?;
        Ok(())
    }

    pub(crate) fn arrivals_folder(&self) -> PathBuf {
        self.folder().join("arrivals")
    }

    fn arrival_of(&self, row: &SqliteRow) -> Result<Arrival, StoreError> {
        let id: i64 = row.get("id");
        let what = || format!("clip {id} that came");
        let unreadable = |problem: String| StoreError::Unreadable {
            what: what(),
            source: problem.into(),
        };
        let name: String = row.get("name");
        let facts: Option<String> = row.get("facts");
        let notes = facts.map(|text| serde_json::from_str(&text)).transpose();
        let folder = self.arrivals_folder();
        let view = |column| row.get::<Option<&str>, _>(column).and_then(view_of);
        Ok(Arrival {
            id: ArrivalId(id),
            player: row.get::<Option<i64>, _>("player_id").map(PlayerId),
            link: row.get::<Option<i64>, _>("link_id").map(LinkId),
            work: row.get::<Option<i64>, _>("work_id").map(WorkId),
            came_by: match row.get("came_by") {
                "page" => CameBy::Page,
                "phone" => CameBy::Phone,
                "folder" => CameBy::Folder,
                "camera" => CameBy::Camera,
                _ => CameBy::Command,
            },
            bytes: row.get::<i64, _>("bytes").unsigned_abs(),
            sha256: row.get("sha256"),
            arrived_at: timestamp(row.get("arrived_at"), what())?,
            state: match row.get("state") {
                "arrived" => ArrivalState::Arrived,
                "opened" => ArrivalState::Opened,
                "watched" => ArrivalState::Watched,
                "stopped" => ArrivalState::Stopped,
                _ => ArrivalState::Failed,
            },
            trouble: row.get("trouble"),
            notes: notes.map_err(|error| unreadable(error.to_string()))?,
            view_said: view("view_said"),
            view_found: view("view_found"),
            alone: row.get("alone"),
            path: folder.join(format!("{id}.{}", media::extension(Path::new(&name)))),
            picture: folder.join(format!("{id}.jpg")),
            name,
        })
    }
}

fn came_by_key(came_by: CameBy) -> &'static str {
    match came_by {
        CameBy::Page => "page",
        CameBy::Phone => "phone",
        CameBy::Folder => "folder",
        CameBy::Camera => "camera",
        CameBy::Command => "command",
    }
}

fn state_key(state: ArrivalState) -> &'static str {
    match state {
        ArrivalState::Arrived => "arrived",
        ArrivalState::Opened => "opened",
        ArrivalState::Watched => "watched",
        ArrivalState::Failed => "failed",
        ArrivalState::Stopped => "stopped",
    }
}

fn view_key(view: View) -> &'static str {
    match view {
        View::FaceOn => "face_on",
        View::DownTheLine => "down_the_line",
    }
}

fn view_of(key: &str) -> Option<View> {
    match key {
        "face_on" => Some(View::FaceOn),
        "down_the_line" => Some(View::DownTheLine),
        _ => None,
    }
}
