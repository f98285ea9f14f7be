//! Uploads: clips on their way in, by pieces. Each is two files in the folder `uploads`: `<key>.json` (what it is to
//! become) and `<key>.part` (its bytes so far; its length is the offset to go on from). Both outlive the program.

use crate::arrivals::{ArrivalId, CameBy, LinkId, NewArrival};
use crate::error::StoreError;
use crate::media;
use crate::rows::PlayerId;
use crate::store::Store;
use jiff::Timestamp;
use lessonwright_model::View;
use serde::{Deserialize, Serialize};
use std::path::PathBuf;
use tokio::fs::{File, OpenOptions};

/// An upload that was begun.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Upload {
    /// Length of the whole, bytes.
    pub length: u64,
    /// The file's name where it came from.
    pub name: String,
    /// Whose, as the player's key.
    pub player: Option<i64>,
    /// The phone's link it comes by, as its key.
    pub link: Option<i64>,
    /// True if a camera of this machine recorded it.
    pub camera: bool,
    /// Where the camera stood, if that was said.
    pub view: Option<View>,
    /// From this instant on it may be cleared away.
    pub ends_at: Timestamp,
    /// What it became, as the arrival's key. Kept until it ends, for whoever missed the answer.
    pub arrival: Option<i64>,
}

impl Upload {
    /// What it becomes when it is whole.
    pub fn becomes(&self) -> NewArrival {
        let came_by = match (self.link, self.camera) {
            (Some(_), _) => CameBy::Phone,
            (None, true) => CameBy::Camera,
            (None, false) => CameBy::Page,
        };
        NewArrival {
            player: self.player.map(PlayerId),
            link: self.link.map(LinkId),
            name: self.name.clone(),
            came_by,
            view: self.view,
        }
    }
}

impl Store {
    /// Begins an upload under a key of the caller's: hexadecimal digits that nobody can guess.
    ///
    /// # Errors
    /// For a minor without a guardian's consent; if it can't be written.
    pub async fn begin_upload(&self, key: &str, upload: &Upload) -> Result<(), StoreError> {
        self.check_arrival_allowed(upload.player.map(PlayerId))
            .await?;
        media::create_folder(&self.uploads_folder()).await?;
        let part = self.upload_part(key);
        File::create(&part)
            .await
            .map_err(media::failed("write", &part))?;
        self.note_upload(key, upload).await
    }

    async fn note_upload(&self, key: &str, upload: &Upload) -> Result<(), StoreError> {
        let text = serde_json::to_vec(upload).map_err(|source| StoreError::Unreadable {
            what: format!("upload {key}"),
            source: source.into(),
        })?;
        let part = media::write(text, self.upload_info(key)).await?;
        part.settle().await.map(|_| ())
    }

    /// An upload under way, with its offset, bytes.
    ///
    /// # Errors
    /// If it is there and can't be read.
    pub async fn upload(&self, key: &str) -> Result<Option<(Upload, u64)>, StoreError> {
        if key.is_empty() || !key.bytes().all(|b| b.is_ascii_hexdigit()) {
            return Ok(None);
        }
        let info = self.upload_info(key);
        if !tokio::fs::try_exists(&info).await.unwrap_or(false) {
            return Ok(None);
        }
        let upload = serde_json::from_slice::<Upload>(&media::read(info).await?);
        let upload = upload.map_err(|source| StoreError::Unreadable {
            what: format!("upload {key}"),
            source: source.into(),
        })?;
        if upload.arrival.is_some() {
            return Ok(Some((upload.clone(), upload.length)));
        }
        let part = self.upload_part(key);
        let meta = tokio::fs::metadata(&part).await;
        Ok(Some((
            upload,
            meta.map_err(media::failed("read", &part))?.len(),
        )))
    }

    /// The file that an upload's next bytes are appended to.
    ///
    /// # Errors
    /// If it can't be opened.
    pub async fn upload_end(&self, key: &str) -> Result<File, StoreError> {
        let part = self.upload_part(key);
        let opened = OpenOptions::new().append(true).open(&part).await;
        opened.map_err(media::failed("write", &part))
    }

    /// Takes what came after an offset off again: bytes that are not what was sent.
    ///
    /// # Errors
    /// If the file can't be changed.
    pub async fn cut_upload(&self, key: &str, at: u64) -> Result<(), StoreError> {
        let part = self.upload_part(key);
        let opened = OpenOptions::new().write(true).open(&part).await;
        let file = opened.map_err(media::failed("write", &part))?;
        let cut = file.set_len(at).await;
        cut.map_err(media::failed("write", &part))
    }

    /// What the system's answer to a write to an upload means.
    pub fn upload_failed(&self, key: &str, source: std::io::Error) -> StoreError {
        media::failed("write", &self.upload_part(key))(source)
    }

    /// Makes a whole upload an arrival.
    ///
    /// # Errors
    /// As [`Store::add_arrival`].
    pub async fn end_upload(
        &self,
        key: &str,
        upload: &Upload,
        at: Timestamp,
    ) -> Result<ArrivalId, StoreError> {
        let part = self.upload_part(key);
        let id = self.add_arrival(&part, &upload.becomes(), at).await?;
        let ended = Upload {
            arrival: Some(id.0),
            ..upload.clone()
        };
        self.note_upload(key, &ended).await?;
        media::remove_file(&part).await?;
        Ok(id)
    }

    /// Gives an upload up.
    ///
    /// # Errors
    /// If its files can't be removed.
    pub async fn drop_upload(&self, key: &str) -> Result<(), StoreError> {
        media::remove_file(&self.upload_info(key)).await?;
        media::remove_file(&self.upload_part(key)).await
    }

    /// Clears away uploads that ended before `now`, and those of players who are gone.
    ///
    /// # Errors
    /// If the folder can't be read or a file not removed.
    pub async fn sweep_uploads(&self, now: Timestamp) -> Result<(), StoreError> {
        for key in media::stems(&self.uploads_folder(), "json").await? {
            let stale = match self.upload(&key).await {
                Ok(Some((upload, _))) => {
                    let gone = match upload.player {
                        Some(player) => self.player(PlayerId(player)).await?.is_none(),
                        None => false,
                    };
                    gone || upload.ends_at <= now
                }
                _ => true,
            };
            if stale {
                self.drop_upload(&key).await?;
            }
        }
        Ok(())
    }

    fn uploads_folder(&self) -> PathBuf {
        self.folder().join("uploads")
    }

    fn upload_info(&self, key: &str) -> PathBuf {
        self.uploads_folder().join(format!("{key}.json"))
    }

    fn upload_part(&self, key: &str) -> PathBuf {
        self.uploads_folder().join(format!("{key}.part"))
    }
}
