//! How much may come by one link, and how slowly a wrong token is answered. In memory: a studio that is opened anew counts anew.

use lessonwright_store::LinkId;
use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};
use tokio::sync::Semaphore;

/// What is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum What {
    /// Any request.
    Request,
    /// A clip that is begun.
    Clip,
    /// A form that is sent.
    Form,
}

impl What {
    /// So many at once, and so many a second again. A page asks for news once a second and sends 4 MiB at a time.
    fn limit(self) -> (f64, f64) {
        const DAY_S: f64 = 86_400.0;
        match self {
            What::Request => (600.0, 10.0),
            What::Clip => (40.0, 40.0 / DAY_S),
            What::Form => (30.0, 60.0 / DAY_S),
        }
    }
}

/// All counts of a door.
pub struct Limits {
    buckets: Mutex<HashMap<(LinkId, What), Bucket>>,
    wrong: Semaphore,
}

/// A wrong token waits for so long; so many wait side by side, others after them.
const WRONG_WAITS: Duration = Duration::from_millis(800);
const WRONG_AT_ONCE: usize = 16;

#[derive(Clone, Copy, Debug)]
struct Bucket {
    left: f64,
    at: Instant,
}

impl Limits {
    pub fn new() -> Limits {
        Limits {
            buckets: Mutex::default(),
            wrong: Semaphore::new(WRONG_AT_ONCE),
        }
    }

    /// Whether one more may come by a link now; counts it.
    pub fn allows(&self, link: LinkId, what: What, now: Instant) -> bool {
        let mut buckets = self.buckets.lock().unwrap_or_else(PoisonError::into_inner);
        let (most, a_second) = what.limit();
        let bucket = buckets.entry((link, what)).or_insert(Bucket {
            left: most,
            at: now,
        });
        bucket.take(now, most, a_second)
    }

    /// Keeps a wrong token waiting. Guessing 128 bits is hopeless at any speed; this keeps the trying from being a load.
    pub async fn slow(&self) {
        // Never closed.
        let _turn = self.wrong.acquire().await;
        tokio::time::sleep(WRONG_WAITS).await;
    }
}

impl Bucket {
    fn take(&mut self, now: Instant, most: f64, a_second: f64) -> bool {
        let passed_s = now.saturating_duration_since(self.at).as_secs_f64();
        self.left = (self.left + passed_s * a_second).min(most);
        self.at = now;
        let is_allowed = self.left >= 1.0;
        if is_allowed {
            self.left -= 1.0;
        }
        is_allowed
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn so_many_come_at_once_and_then_as_time_goes_by() {
        let limits = Limits::new();
        let begin = Instant::now();
        let (link, other) = (LinkId(1), LinkId(2));
        let allowed = |link, at| limits.allows(link, What::Clip, at);
        assert_eq!((0..50).filter(|_| allowed(link, begin)).count(), 40);
        assert!(allowed(other, begin), "another link has its own");
        let soon = begin + Duration::from_secs(60);
        assert!(!allowed(link, soon));
        // 40 a day is one in 36 minutes.
        let later = begin + Duration::from_secs(2161);
        assert!(allowed(link, later));
        assert!(!allowed(link, later));
        let days_later = begin + Duration::from_secs(10 * 86_400);
        assert_eq!((0..50).filter(|_| allowed(link, days_later)).count(), 40);
    }
}
