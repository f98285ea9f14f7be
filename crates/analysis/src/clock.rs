//! A file's own clock and the real one.

use lessonwright_model::ClipFacts;

/// Turns seconds of a file's clock into seconds of real motion and back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clock {
    real_per_file: f64,
}

impl Clock {
    /// The clock of a clip.
    pub fn of(facts: &ClipFacts) -> Clock {
        Clock {
            real_per_file: facts.real_seconds_per_file_second(),
        }
    }

    /// A clock that tells real time.
    #[cfg(test)]
    pub(crate) fn exact() -> Clock {
        Clock { real_per_file: 1.0 }
    }

    /// Real seconds from file seconds.
    pub fn real(self, file_s: f64) -> f64 {
        file_s * self.real_per_file
    }

    /// File seconds from real seconds.
    pub fn file(self, real_s: f64) -> f64 {
        real_s / self.real_per_file
    }
}
