//! What the studio's swing bench needs of the clips: where everything is in every frame, and the
//! frames' pictures, made on first opening.

mod making;
mod strip;
#[cfg(test)]
mod strip_tests;
mod tracks;

pub use tracks::tracks_of;

use crate::correct;
use crate::surroundings::Surroundings;
use lessonwright_model::{Cancel, SwingTracks, View};
use lessonwright_store::{AnalysisId, Store, SwingId};
use lessonwright_web::bench::{Answer, BenchSource, Making};
use making::Strips;
use std::sync::{Arc, Mutex, PoisonError};

/// Swings whose tracks stay in memory: the one on the bench, what it is compared with, and the ones
/// before. Each takes about a megabyte.
const TRACKS_KEPT: usize = 8;

/// The bench of one studio. Clones share what is kept.
#[derive(Clone)]
pub struct Bench {
    around: Arc<Surroundings>,
    store: Store,
    cancel: Cancel,
    tracks: Arc<Mutex<Vec<KeptTracks>>>,
    strips: Strips,
}

type KeptTracks = (SwingId, AnalysisId, Arc<SwingTracks>);

impl Bench {
    pub fn of(around: Arc<Surroundings>, store: Store, cancel: Cancel) -> Bench {
        Bench {
            strips: Strips::default(),
            tracks: Arc::default(),
            around,
            store,
            cancel,
        }
    }

    /// Tracks that were computed anyhow, with the analysis they belong to.
    pub fn keep(&self, swing: SwingId, analysis: AnalysisId, tracks: Arc<SwingTracks>) {
        let mut kept = self.tracks.lock().unwrap_or_else(PoisonError::into_inner);
        kept.retain(|(of, _, _)| *of != swing);
        kept.push((swing, analysis, tracks));
        if kept.len() > TRACKS_KEPT {
            kept.remove(0);
        }
    }

    async fn find_tracks(self, swing: SwingId) -> Result<Arc<SwingTracks>, String> {
        let say = |error: anyhow::Error| format!("{error:#}.");
        let latest = self.store.latest_analysis(swing).await;
        let latest = latest.map_err(|error| say(error.into()))?.map(|a| a.id);
        if let Some(latest) = latest
            && let Some(kept) = self.kept(swing, latest)
        {
            return Ok(kept);
        }
        let tracks = correct::tracks(&self.around, &self.store, swing, &self.cancel).await;
        let tracks = Arc::new(tracks.map_err(say)?);
        if let Some(latest) = latest {
            self.keep(swing, latest, Arc::clone(&tracks));
        }
        Ok(tracks)
    }

    fn kept(&self, swing: SwingId, analysis: AnalysisId) -> Option<Arc<SwingTracks>> {
        let kept = self.tracks.lock().unwrap_or_else(PoisonError::into_inner);
        let is = |(of, by, _): &&KeptTracks| (*of, *by) == (swing, analysis);
        kept.iter()
            .find(is)
            .map(|(_, _, tracks)| Arc::clone(tracks))
    }
}

impl BenchSource for Bench {
    fn tracks(&self, swing: SwingId) -> Answer<Result<Arc<SwingTracks>, String>> {
        Box::pin(self.clone().find_tracks(swing))
    }

    fn begin(&self, swing: SwingId, view: View) -> Making {
        self.strips.begin(self, swing, view)
    }

    fn again(&self, swing: SwingId, view: View) -> Making {
        self.strips.again(self, swing, view)
    }

    fn strip(&self, swing: SwingId, view: View) -> Answer<Result<Vec<u8>, String>> {
        let bench = self.clone();
        Box::pin(async move {
            let file = bench.strips.made(&bench, swing, view).await?;
            tokio::fs::read(&file)
                .await
                .map_err(|error| format!("the pictures could not be read: {error}."))
        })
    }

    fn frame(
        &self,
        swing: SwingId,
        view: View,
        frame: usize,
    ) -> Answer<Result<Option<Vec<u8>>, String>> {
        let bench = self.clone();
        Box::pin(async move {
            let file = bench.strips.made(&bench, swing, view).await?;
            tokio::task::spawn_blocking(move || strip::frame(&file, frame))
                .await
                .map_err(|error| error.to_string())?
                .map_err(|error| format!("the picture could not be read: {error}."))
        })
    }
}
