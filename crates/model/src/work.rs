//! Long work: how it is cancelled and how it says how far it is.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// A switch shared between who does long work and who may stop it. Clones share one switch.
#[derive(Clone, Debug, Default)]
pub struct Cancel(Arc<AtomicBool>);

impl Cancel {
    /// Ask the work to stop soon.
    pub fn cancel(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// True once somebody asked.
    pub fn is_cancelled(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}
