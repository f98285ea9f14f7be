//! Instants as days, times of day and waiting, in the machine's zone.

use crate::AppState;
use jiff::Timestamp;
use jiff::civil::Date;
use lessonwright_language::{Text, when};

/// "2 hours": whole ones that have passed.
pub fn waited(since: Timestamp, now: Timestamp) -> Text {
    when::waited(now.duration_since(since).as_mins())
}

/// "14:30".
pub fn clock_time(at: Timestamp, state: &AppState) -> String {
    at.to_zoned(state.time_zone.clone())
        .strftime("%H:%M")
        .to_string()
}

/// The day of an instant, in the machine's zone.
pub fn date_at(at: Timestamp, state: &AppState) -> Date {
    at.to_zoned(state.time_zone.clone()).date()
}

/// Today, in the machine's zone.
pub fn today(state: &AppState) -> Date {
    date_at((state.now)(), state)
}
