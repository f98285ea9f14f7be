//! What lies on the disk, kept between pages: to sum up the files of a thousand players takes most of a second. A page does
//! not wait for it longer than a moment: it shows the sums as they were last, and says that they are counted again.

use jiff::Timestamp;
use lessonwright_store::{Storage, StoreError};
use std::future::Future;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;
use tokio::sync::watch;
use tokio::time::timeout;

/// Counts no longer than this, s: pictures come and go without a change of anybody's record.
const AGE_S: i64 = 60;

/// Few players are counted before anybody notices.
const PATIENCE: Duration = Duration::from_millis(20);

/// The kept sums. Clones share them.
#[derive(Clone, Default)]
pub(crate) struct Disk(Arc<Mutex<Now>>);

#[derive(Default)]
struct Now {
    kept: Option<Arc<Counted>>,
    /// Closed when the count under way has ended.
    counting: Option<watch::Receiver<()>>,
    /// Another one after everything that was cleared or erased: a count that began before is of no use.
    turn: u64,
}

/// When something was counted, and another stamp after every change of a player's record.
#[derive(Clone, Copy, PartialEq)]
pub(crate) struct When {
    pub at: Timestamp,
    pub stamp: (i64, i64, i64),
}

/// What lay on the disk then.
pub(crate) struct Counted {
    pub storage: Storage,
    pub when: When,
}

/// What is known of the disk.
pub(crate) struct Known {
    /// None until it was counted once.
    pub counted: Option<Arc<Counted>>,
    /// It is being counted again.
    pub is_counting: bool,
}

impl Disk {
    /// What lies there, counted a minute ago at most and with nothing changed since; or as far as it is known, while `count`
    /// goes on beside the pages.
    ///
    /// # Errors
    /// If it was never counted and can't be.
    pub async fn known<F>(&self, now: When, count: impl Fn() -> F) -> Result<Known, StoreError>
    where
        F: Future<Output = Result<Storage, StoreError>> + Send + 'static,
    {
        let counting = {
            let mut here = self.here();
            let is_good = |kept: &Arc<Counted>| {
                let age = now.at.duration_since(kept.when.at);
                kept.when.stamp == now.stamp && age.as_secs() < AGE_S
            };
            if let Some(kept) = here.kept.clone().filter(is_good) {
                return Ok(Known {
                    counted: Some(kept),
                    is_counting: false,
                });
            }
            match &here.counting {
                Some(counting) if counting.has_changed().is_ok() => counting.clone(),
                _ => {
                    let counting = self.begin(now, here.turn, count());
                    here.counting = Some(counting.clone());
                    counting
                }
            }
        };
        let ended = timeout(PATIENCE, ended(counting)).await.is_ok();
        let mut counted = self.here().kept.clone();
        if counted.is_none() && ended {
            // It failed: now the page says why.
            let storage = count().await?;
            counted = Some(Arc::new(Counted { storage, when: now }));
        }
        Ok(Known {
            counted,
            is_counting: !ended,
        })
    }

    fn begin<F>(&self, when: When, turn: u64, count: F) -> watch::Receiver<()>
    where
        F: Future<Output = Result<Storage, StoreError>> + Send + 'static,
    {
        let (end, counting) = watch::channel(());
        let disk = self.clone();
        tokio::spawn(async move {
            let counted = count.await;
            let mut here = disk.here();
            match counted {
                Ok(storage) if here.turn == turn => {
                    here.kept = Some(Arc::new(Counted { storage, when }));
                }
                Ok(_) => {}
                Err(error) => tracing::error!("what lies on the disk was not counted: {error}"),
            }
            drop(end);
        });
        counting
    }

    /// After something was cleared or erased: what was counted before is not shown again.
    pub fn forget(&self) {
        let mut here = self.here();
        *here = Now {
            turn: here.turn + 1,
            ..Now::default()
        };
    }

    fn here(&self) -> MutexGuard<'_, Now> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// Until the other end is dropped.
async fn ended(mut counting: watch::Receiver<()>) {
    while counting.changed().await.is_ok() {}
}

#[cfg(test)]
mod tests {
    use super::*;
    use tokio::sync::oneshot;

    fn when(at_s: i64, changes: i64) -> When {
        When {
            at: Timestamp::from_second(at_s).unwrap(),
            stamp: (1, changes, 1),
        }
    }

    async fn bytes(bytes: u64) -> Result<Storage, StoreError> {
        Ok(Storage {
            database_bytes: bytes,
            ..Storage::default()
        })
    }

    /// The bytes that are known, and whether they are counted again.
    fn said(known: &Known) -> (Option<u64>, bool) {
        let bytes = known.counted.as_ref().map(|c| c.storage.database_bytes);
        (bytes, known.is_counting)
    }

    #[tokio::test]
    async fn old_sums_are_shown_while_a_slow_disk_is_counted() {
        let disk = Disk::default();
        let known = disk.known(when(0, 1), || bytes(10)).await.unwrap();
        assert_eq!(said(&known), (Some(10), false));
        // A minute's sums are good, unless something changed.
        let known = disk.known(when(59, 1), || bytes(20)).await.unwrap();
        assert_eq!(said(&known), (Some(10), false));
        let (go, gone) = oneshot::channel::<()>();
        let gone = Arc::new(tokio::sync::Mutex::new(Some(gone)));
        let slow = || {
            let gone = Arc::clone(&gone);
            async move {
                let gone = gone.lock().await.take().expect("one count at a time");
                let _ = gone.await;
                bytes(30).await
            }
        };
        for _ in 0..2 {
            let known = disk.known(when(59, 2), slow).await.unwrap();
            assert_eq!(said(&known), (Some(10), true));
        }
        go.send(()).unwrap();
        while disk.here().kept.as_ref().unwrap().storage.database_bytes == 10 {
            tokio::task::yield_now().await;
        }
        let known = disk.known(when(59, 2), slow).await.unwrap();
        assert_eq!(said(&known), (Some(30), false));
    }

    #[tokio::test]
    async fn what_was_counted_before_something_was_cleared_is_not_shown() {
        let disk = Disk::default();
        let never = || std::future::pending::<Result<Storage, StoreError>>();
        let known = disk.known(when(0, 1), never).await.unwrap();
        assert_eq!(said(&known), (None, true));
        disk.forget();
        let known = disk.known(when(0, 1), || bytes(5)).await.unwrap();
        assert_eq!(said(&known), (Some(5), false));
    }

    #[tokio::test]
    async fn a_disk_that_can_not_be_read_is_said() {
        let broken = || async { Err(StoreError::NameEmpty) };
        assert!(Disk::default().known(when(0, 1), broken).await.is_err());
    }
}
