//! Pages that are made anew while they are served: what the professional sets for the studio is part of every page, so a
//! change puts new routes in place of the old ones. A request that is under way ends on those it began on.

use axum::Router;
use axum::extract::Request;
use std::sync::{Arc, RwLock};
use tower::ServiceExt;

/// The routes that are served now. Clones share them.
#[derive(Clone, Default)]
pub struct Pages(Arc<RwLock<Router>>);

impl Pages {
    /// Serves these from now on.
    pub fn put(&self, routes: Router) {
        *self
            .0
            .write()
            .unwrap_or_else(|poisoned| poisoned.into_inner()) = routes;
    }

    /// What answers a listener: whatever is served at the time.
    pub fn router(&self) -> Router {
        let pages = self.clone();
        let answer = move |request: Request| {
            let now = pages.now();
            async move { now.oneshot(request).await }
        };
        Router::new().fallback(answer)
    }

    fn now(&self) -> Router {
        let now = self.0.read();
        now.unwrap_or_else(|poisoned| poisoned.into_inner()).clone()
    }
}
