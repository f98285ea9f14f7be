//! Days, times of day and waiting as people say them.

use crate::AppState;
use jiff::Timestamp;
use jiff::civil::Date;

/// "today", "tomorrow", "Friday 27 November", with the year where it is another.
pub fn day_words(day: Date, today: Date) -> String {
    match (day - today).get_days() {
        0 => "today".into(),
        1 => "tomorrow".into(),
        -1 => "yesterday".into(),
        _ if day.year() == today.year() => day.strftime("%A %-d %B").to_string(),
        _ => day.strftime("%A %-d %B %Y").to_string(),
    }
}

/// "2 hours": whole ones that have passed.
pub fn waited(since: Timestamp, now: Timestamp) -> String {
    let minutes = now.duration_since(since).as_mins().max(0);
    let many = |n: i64, what: &str| match n {
        1 => format!("1 {what}"),
        n => format!("{n} {what}s"),
    };
    match minutes {
        0..=59 => "less than an hour".into(),
        60..=1439 => many(minutes / 60, "hour"),
        _ => many(minutes / 1440, "day"),
    }
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

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::ToSpan;
    use jiff::civil::date;

    #[test]
    fn days_are_said_as_people_do() {
        // 25 November 2026 is a Wednesday (ISO 8601 week date 2026-W48-3, from memory).
        let today = date(2026, 11, 25);
        for (day, said) in [
            (today, "today"),
            (date(2026, 11, 26), "tomorrow"),
            (date(2026, 11, 24), "yesterday"),
            (date(2026, 11, 27), "Friday 27 November"),
            (date(2027, 1, 2), "Saturday 2 January 2027"),
        ] {
            assert_eq!(day_words(day, today), said);
        }
    }

    #[test]
    fn waiting_is_said_in_whole_hours_and_days() {
        let now = Timestamp::from_second(1_795_597_200).expect("an instant");
        for (minutes, said) in [
            (-5, "less than an hour"),
            (59, "less than an hour"),
            (60, "1 hour"),
            (1439, "23 hours"),
            (1440, "1 day"),
            (3 * 1440, "3 days"),
        ] {
            assert_eq!(waited(now - minutes.minutes(), now), said, "{minutes}");
        }
    }
}
