//! What lies on the disk, kept between pages: to sum up the files of a thousand players takes half a second.

use crate::routes::Studio;
use jiff::Timestamp;
use lessonwright_store::{Storage, StoreError};
use std::sync::Arc;
use tokio::sync::Mutex;

/// Counts no longer than this, s: pictures come and go without a change of anybody's record.
const AGE_S: i64 = 60;

/// The kept sums. Clones share them.
#[derive(Clone, Default)]
pub(crate) struct Disk(Arc<Mutex<Option<Kept>>>);

struct Kept {
    /// Another one after every change of a player's record.
    stamp: (i64, i64, i64),
    at: Timestamp,
    storage: Arc<Storage>,
}

impl Disk {
    /// What lies there now, or lay there a minute ago at most.
    pub async fn storage(&self, studio: &Studio) -> Result<Arc<Storage>, StoreError> {
        // Held while reading: who asks meanwhile waits for the same sums.
        let mut kept = self.0.lock().await;
        let stamp = studio.store.follow_stamp().await?;
        let at = (studio.state.now)();
        if let Some(kept) = &*kept
            && kept.stamp == stamp
            && at.duration_since(kept.at).as_secs() < AGE_S
        {
            return Ok(Arc::clone(&kept.storage));
        }
        let storage = Arc::new(studio.store.storage().await?);
        *kept = Some(Kept {
            stamp,
            at,
            storage: Arc::clone(&storage),
        });
        Ok(storage)
    }

    /// After something was cleared or erased.
    pub async fn forget(&self) {
        *self.0.lock().await = None;
    }
}
