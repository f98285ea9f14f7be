//! The strips that are being made, each once, one at a time, with how far they are.

use super::{Bench, strip};
use crate::correct;
use anyhow::{Context, Result};
use lessonwright_model::View;
use lessonwright_store::SwingId;
use lessonwright_web::bench::Making;
use std::collections::HashMap;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::SystemTime;
use tokio::sync::{Semaphore, watch};

/// Most that the strips of all swings may take together, bytes: some fifty swings of two views at 1080p.
const MOST_BYTES: u64 = 4 << 30;

/// How far each strip is, told to whoever waits.
type States = HashMap<(SwingId, View), watch::Sender<Making>>;

/// All strips of this run.
#[derive(Clone)]
pub struct Strips {
    states: Arc<Mutex<States>>,
    /// Decoding takes every core there is: one after another is as quick, and the first is there sooner.
    turn: Arc<Semaphore>,
}

impl Default for Strips {
    fn default() -> Strips {
        Strips {
            states: Arc::default(),
            turn: Arc::new(Semaphore::new(1)),
        }
    }
}

impl Strips {
    /// Has a strip made, if it is neither there nor under way; how far it is.
    pub fn begin(&self, bench: &Bench, swing: SwingId, view: View) -> Making {
        self.watch(bench, swing, view, false).borrow().clone()
    }

    /// The same, also where it failed.
    pub fn again(&self, bench: &Bench, swing: SwingId, view: View) -> Making {
        self.watch(bench, swing, view, true).borrow().clone()
    }

    /// The strip's file, once it is made.
    pub async fn made(&self, bench: &Bench, swing: SwingId, view: View) -> Result<PathBuf, String> {
        let mut state = self.watch(bench, swing, view, false);
        let done = |state: &Making| matches!(state, Making::Ready | Making::Failed(_));
        let ended = state.wait_for(done).await.map(|state| state.clone());
        match ended {
            Ok(Making::Failed(why)) => Err(why),
            Ok(_) => Ok(file_of(bench, swing, view)),
            Err(_) => Err("the pictures were not made: the studio is closing.".to_owned()),
        }
    }

    fn watch(
        &self,
        bench: &Bench,
        swing: SwingId,
        view: View,
        again: bool,
    ) -> watch::Receiver<Making> {
        let file = file_of(bench, swing, view);
        let mut states = self.states.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(state) = states.get(&(swing, view)) {
            let stale = match &*state.borrow() {
                // Trimmed or erased since.
                Making::Ready => !file.exists(),
                Making::Failed(_) => again,
                _ => false,
            };
            if !stale {
                return state.subscribe();
            }
        }
        let there = file.exists();
        let first = match there {
            true => Making::Ready,
            false => Making::Waiting,
        };
        let (state, receiver) = watch::channel(first);
        states.insert((swing, view), state.clone());
        match there {
            true => looked_at(&file),
            false => {
                let (strips, bench) = (self.clone(), bench.clone());
                tokio::spawn(async move {
                    let done = strips.make(&bench, swing, view, &state).await;
                    state.send_replace(match done {
                        Ok(()) => Making::Ready,
                        Err(error) => Making::Failed(format!("{error:#}.")),
                    });
                });
            }
        }
        receiver
    }

    async fn make(
        &self,
        bench: &Bench,
        swing: SwingId,
        view: View,
        state: &watch::Sender<Making>,
    ) -> Result<()> {
        let _mine = self.turn.acquire().await.context("waiting for a turn")?;
        let seen =
            correct::watched(&bench.around, &bench.store, swing, view, &bench.cancel).await?;
        let file = file_of(bench, swing, view);
        let (around, cancel) = (Arc::clone(&bench.around), bench.cancel.clone());
        let (store, state) = (bench.store.clone(), state.clone());
        let making = tokio::task::spawn_blocking(move || {
            let report = |done, of| {
                state.send_replace(Making::Under { done, of });
            };
            strip::make(&around.tools, &seen, &file, &report, &cancel)?;
            store.trim_frames(swing, MOST_BYTES)?;
            Ok(())
        });
        making.await.context("making the pictures")?
    }
}

fn file_of(bench: &Bench, swing: SwingId, view: View) -> PathBuf {
    let name = match view {
        View::FaceOn => "face_on",
        View::DownTheLine => "down_the_line",
    };
    let version = strip::VERSION;
    let folder = bench.store.frames_folder(swing);
    folder.join(format!("{name}-{version}.strip"))
}

/// Says when it was last looked at, for the trimming. A clock that can't be written costs an early trim, no more.
fn looked_at(file: &std::path::Path) {
    if let Ok(opened) = std::fs::File::options().append(true).open(file) {
        let _ = opened.set_modified(SystemTime::now());
    }
}
