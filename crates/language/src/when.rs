//! Days, times of day and durations as people say them.

use crate::{Text, t};
use jiff::civil::{Date, DateTime, Time};

/// "25 November 2026".
pub fn date(date: Date) -> Text {
    filled("when-date", date, MONTHS).with("year", date.year().to_string())
}

/// "Friday 27 November".
pub fn weekday_day_month(date: Date) -> Text {
    filled("when-weekday-day-month", date, MONTHS).with("weekday", weekday(date, WEEKDAYS))
}

/// "Saturday 2 January 2027".
pub fn weekday_date(date: Date) -> Text {
    filled("when-weekday-date", date, MONTHS)
        .with("weekday", weekday(date, WEEKDAYS))
        .with("year", date.year().to_string())
}

/// "4 Nov".
pub fn short(date: Date) -> Text {
    filled("when-day-month", date, SHORT_MONTHS)
}

/// "Fri 27 Nov".
pub fn weekday_short(date: Date) -> Text {
    filled("when-weekday-day-month", date, SHORT_MONTHS)
        .with("weekday", weekday(date, SHORT_WEEKDAYS))
}

/// "25 November 2026, 17:40".
pub fn minute(at: DateTime) -> Text {
    t("when-minute")
        .with("date", date(at.date()))
        .with("clock", clock(at.time()))
}

/// "14:30": the same in every language.
pub fn clock(at: Time) -> Text {
    Text::plain(at.strftime("%H:%M").to_string())
}

/// "today", "tomorrow", "yesterday", "Friday 27 November", with the year where it is another.
pub fn day(day: Date, today: Date) -> Text {
    match (day - today).get_days() {
        0 => t("when-today"),
        1 => t("when-tomorrow"),
        -1 => t("when-yesterday"),
        _ if day.year() == today.year() => weekday_day_month(day),
        _ => weekday_date(day),
    }
}

/// "2 hours": whole ones that have passed.
pub fn waited(minutes: i64) -> Text {
    match minutes {
        ..=59 => t("when-less-than-an-hour"),
        60..=1439 => t("when-hours").with("n", minutes / 60),
        _ => t("when-days").with("n", minutes / 1440),
    }
}

fn filled(id: &'static str, date: Date, months: [&'static str; 12]) -> Text {
    let month = months[usize::from(date.month().unsigned_abs()) - 1];
    t(id)
        .with("day", date.day().to_string())
        .with("month", t(month))
}

fn weekday(date: Date, names: [&'static str; 7]) -> Text {
    let day = date.weekday().to_monday_zero_offset();
    t(names[usize::from(day.unsigned_abs())])
}

const MONTHS: [&str; 12] = [
    "when-month-january",
    "when-month-february",
    "when-month-march",
    "when-month-april",
    "when-month-may",
    "when-month-june",
    "when-month-july",
    "when-month-august",
    "when-month-september",
    "when-month-october",
    "when-month-november",
    "when-month-december",
];

const SHORT_MONTHS: [&str; 12] = [
    "when-month-short-january",
    "when-month-short-february",
    "when-month-short-march",
    "when-month-short-april",
    "when-month-short-may",
    "when-month-short-june",
    "when-month-short-july",
    "when-month-short-august",
    "when-month-short-september",
    "when-month-short-october",
    "when-month-short-november",
    "when-month-short-december",
];

const WEEKDAYS: [&str; 7] = [
    "when-monday",
    "when-tuesday",
    "when-wednesday",
    "when-thursday",
    "when-friday",
    "when-saturday",
    "when-sunday",
];

const SHORT_WEEKDAYS: [&str; 7] = [
    "when-short-monday",
    "when-short-tuesday",
    "when-short-wednesday",
    "when-short-thursday",
    "when-short-friday",
    "when-short-saturday",
    "when-short-sunday",
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Language, Say};
    use jiff::civil;

    #[test]
    fn days_are_said_as_people_do() {
        // 25 November 2026 is a Wednesday (ISO 8601 week date 2026-W48-3, from memory).
        let today = civil::date(2026, 11, 25);
        for (at, english, german) in [
            (today, "today", "heute"),
            (civil::date(2026, 11, 26), "tomorrow", "morgen"),
            (civil::date(2026, 11, 24), "yesterday", "gestern"),
            (
                civil::date(2026, 11, 27),
                "Friday 27 November",
                "Freitag, 27. November",
            ),
            (
                civil::date(2027, 1, 2),
                "Saturday 2 January 2027",
                "Samstag, 2. Januar 2027",
            ),
        ] {
            assert_eq!(both(&day(at, today)), [english, german]);
        }
    }

    /// The English of every day of a leap year is what jiff's own names say.
    #[test]
    fn english_days_are_those_of_jiff() {
        let say = Say::default();
        for at in civil::date(2028, 1, 1)
            .series(jiff::ToSpan::days(1))
            .take(366)
        {
            for (text, format) in [
                (date(at), "%-d %B %Y"),
                (short(at), "%-d %b"),
                (weekday_short(at), "%a %-d %b"),
                (weekday_date(at), "%A %-d %B %Y"),
            ] {
                assert_eq!(say.text(&text), at.strftime(format).to_string());
            }
        }
    }

    #[test]
    fn waiting_is_said_in_whole_hours_and_days() {
        for (minutes, english, german) in [
            (-5, "less than an hour", "weniger als einer Stunde"),
            (59, "less than an hour", "weniger als einer Stunde"),
            (60, "1 hour", "1 Stunde"),
            (1439, "23 hours", "23 Stunden"),
            (1440, "1 day", "1 Tag"),
            (3 * 1440, "3 days", "3 Tagen"),
        ] {
            assert_eq!(both(&waited(minutes)), [english, german], "{minutes}");
        }
    }

    fn both(text: &Text) -> [String; 2] {
        Language::ALL.map(|language| Say::new(language).text(text))
    }
}
