//! The swing bench: a swing's clips frame by frame, with what was found drawn over them, the numbers
//! beside them, corrections by hand, and another swing to compare with.
//!
//! The page is whole without scripts: stills of the moments, the fitted body from three sides, and the
//! table. Its scripts (`scripts/bench`) put the moving pictures in place of the stills.

mod before_after;
mod body_still;
mod files;
mod forms;
mod numbers;
mod page;
mod routes;
mod still;

pub(crate) use before_after::before_after_address;
pub(crate) use routes::{bench_address, frame_address, routes, strip_address};

use lessonwright_model::{SwingTracks, View};
use lessonwright_store::SwingId;
use std::future::Future;
use std::pin::Pin;
use std::sync::Arc;

/// What will be answered.
pub type Answer<T> = Pin<Box<dyn Future<Output = T> + Send>>;

/// How far the pictures of one clip are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Making {
    /// Others come first.
    Waiting,
    /// So many frames of so many are done.
    Under {
        /// Done.
        done: usize,
        /// Of how many.
        of: usize,
    },
    /// They are there.
    Ready,
    /// They could not be made; why, for the professional.
    Failed(String),
}

/// Where the bench gets tracks and pictures from. What it says when it can't is for the professional.
pub trait BenchSource: Send + Sync {
    /// Where everything is in every frame, under the swing's corrections so far.
    fn tracks(&self, swing: SwingId) -> Answer<Result<Arc<SwingTracks>, String>>;

    /// Has the pictures of one clip made, unless they are there, under way or failed; how far they are.
    fn begin(&self, swing: SwingId, view: View) -> Making;

    /// The same, also where they failed.
    fn again(&self, swing: SwingId, view: View) -> Making;

    /// All pictures of one clip's swing in one file (its layout: `docs/bench.md`), once they are made.
    fn strip(&self, swing: SwingId, view: View) -> Answer<Result<Vec<u8>, String>>;

    /// One picture as JPEG, by the frame's number in the clip, once they are made; none where that frame was not looked at or is
    /// damaged.
    fn frame(
        &self,
        swing: SwingId,
        view: View,
        frame: usize,
    ) -> Answer<Result<Option<Vec<u8>>, String>>;
}
