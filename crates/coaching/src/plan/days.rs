//! On which days is practised, and on which of them filmed.

use jiff::ToSpan;
use jiff::civil::Date;
use lessonwright_model::Practice;

/// Days from one date to another.
pub(super) fn between(from: Date, to: Date) -> i64 {
    to.duration_since(from).as_hours() / 24
}

/// The days of practice before the next lesson: the weekdays chosen, evenly thinned out to `days_a_week`; with a day
/// of rest between where the dose is lowered. Never more than `days_a_week` in any seven days.
pub(super) fn choose(practice: &Practice, days_a_week: u32, is_lowered: bool) -> Vec<Date> {
    // With a day of rest between, neighbours fall out anyway: what is left is not thinned out beforehand.
    let (weekdays, gap) = match is_lowered {
        true => (practice.days.clone(), 2),
        false => (thinned(&practice.days, days_a_week as usize), 1),
    };
    let mut dates: Vec<Date> = Vec::new();
    let mut date = practice.from;
    while date < practice.next_lesson {
        let weekday = date.weekday().to_monday_one_offset() as u8;
        let rested = dates.last().is_none_or(|last| between(*last, date) >= gap);
        let lately = dates
            .iter()
            .filter(|done| between(**done, date) < 7)
            .count();
        if weekdays.contains(&weekday) && rested && lately < days_a_week as usize {
            dates.push(date);
        }
        date = date.saturating_add(1.day());
    }
    dates
}

/// At most `most` of the weekdays, evenly.
fn thinned(weekdays: &[u8], most: usize) -> Vec<u8> {
    let mut all = weekdays.to_vec();
    all.sort_unstable();
    all.dedup();
    if all.len() <= most {
        return all;
    }
    (0..most)
        .map(|index| all[index * all.len() / most])
        .collect()
}

/// Most of the dates that fall into any seven days; 1 for none.
pub(super) fn most_in_a_week(dates: &[Date]) -> u32 {
    let from = |first: &Date| {
        let within = |date: &&Date| (0..7).contains(&between(*first, **date));
        dates.iter().filter(within).count() as u32
    };
    dates.iter().map(from).max().unwrap_or(1)
}

/// For each date, whether the phone comes out: about every `every_days`, and the last time before the lesson.
pub(super) fn checks(dates: &[Date], from: Date, every_days: u32) -> Vec<bool> {
    let every = i64::from(every_days);
    let mut last = from;
    let mut checks: Vec<bool> = dates
        .iter()
        .map(|date| {
            // A day early rather than most of a week late.
            let due = between(last, *date) >= every - 1;
            if due {
                last = *date;
            }
            due
        })
        .collect();
    // Nothing was practised yet on the first day.
    if dates.len() > 1
        && let Some(end) = checks.last_mut()
        && !*end
        && dates
            .last()
            .is_some_and(|date| last == from || between(last, *date) >= every / 2)
    {
        *end = true;
    }
    checks
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weekdays_are_thinned_evenly() {
        for (days, most, expected) in [
            (vec![1, 2, 3, 4, 5, 6, 7], 4, vec![1, 2, 4, 6]),
            (vec![7, 1, 1, 3], 3, vec![1, 3, 7]),
            (vec![2, 4], 4, vec![2, 4]),
            (vec![1, 2, 3, 4, 5, 6, 7], 3, vec![1, 3, 5]),
        ] {
            assert_eq!(thinned(&days, most), expected);
        }
    }

    #[test]
    fn the_fullest_week_counts_wherever_it_begins() {
        let date = |day| Date::constant(2026, 12, day);
        assert_eq!(most_in_a_week(&[date(5), date(6), date(11), date(12)]), 3);
        assert_eq!(most_in_a_week(&[]), 1);
    }
}
