//! The follow-up as text.

use lessonwright_coaching::follow::{
    Change, DrillEffect, Due, Line, Moved, Overview, Progress, Repeatability, percent,
};
use lessonwright_language::Say;
use lessonwright_model::{Day, History, Interval, Unit};
use lessonwright_store::{SwingMark, date_of};
use std::fmt::Write;

/// One player's prescriptions, latest first.
pub fn progress(history: &History, due: Option<Due>, all: &[Progress]) -> String {
    let mut text = format!("{}\n", history.name);
    if let Some(due) = due {
        text += &format!("  {}\n", due_words(due));
    }
    if history.drafts > 0 {
        text += &format!(
            "  {} drafted and not approved: they do not count yet\n",
            history.drafts
        );
    }
    if all.is_empty() {
        text += "  Nothing prescribed with a number to reach.\n";
    }
    for one in all {
        // Writing to a String cannot fail.
        let _ = write_progress(&mut text, one);
    }
    text
}

fn write_progress(text: &mut String, one: &Progress) -> std::fmt::Result {
    let (place, given) = (one.aim.place, &one.given);
    let unit = place.measure.unit();
    writeln!(
        text,
        "\n{}. {}, since {}",
        given.id,
        given.title,
        date_of(given.day)
    )?;
    let from = one.aim.start.map(|v| format!("from {} ", signed(v, unit)));
    writeln!(
        text,
        "  {}: {}to {}",
        place.plain(),
        from.unwrap_or_default(),
        signed(one.aim.goal, unit)
    )?;
    match one.change() {
        None => writeln!(text, "  Nothing to judge yet.")?,
        Some(change) => {
            writeln!(
                text,
                "  {}: {} toward the number (95 %), {} likely toward it, {} likely at least half of the way",
                change.verdict.plain().to_uppercase(),
                amount(change, unit),
                percent(change.p_toward),
                percent(change.p_half)
            )?;
            writeln!(
                text,
                "  With these swings a change must be beyond {}.",
                size(change.mdc, unit)
            )?;
        }
    }
    for result in &one.results {
        if let Some(change) = &result.change {
            writeln!(
                text,
                "    {:16} {} in {}: {} to {}, {}, {}",
                result.counted.plain(),
                many(change.to[1], "swing"),
                many(change.to[0], "session"),
                signed(change.before, unit),
                signed(change.after, unit),
                amount(change, unit),
                change.verdict.plain()
            )?;
        }
    }
    writeln!(text, "  Proposal: {}.", one.advice.step.plain())?;
    for reason in &one.advice.because {
        writeln!(text, "    - {}", Say::default().text(reason))?;
    }
    for note in &one.notes {
        writeln!(text, "  note: {}", Say::default().text(note))?;
    }
    Ok(())
}

/// The roster.
pub fn overview(overview: &Overview, drills: &[DrillEffect], today: Day) -> String {
    let mut text = String::new();
    let mut due: Vec<&Line> = overview.lines.iter().filter(|l| l.is_due()).collect();
    due.sort_by_key(|line| line.due.map(|due| due.in_days));
    section(&mut text, "Due", due, |line| {
        format!(
            "{}: {}",
            line.name,
            line.due.map_or_else(String::new, due_words)
        )
    });
    let stuck = overview
        .lines
        .iter()
        .filter(|l| l.is_stuck(today))
        .collect();
    section(
        &mut text,
        "Where the change is not happening",
        stuck,
        person,
    );
    section(
        &mut text,
        "Everybody",
        overview.lines.iter().collect(),
        person,
    );
    section(
        &mut text,
        "In common",
        overview.common.iter().collect(),
        |common| {
            let side = if common.above { "above" } else { "below" };
            format!(
                "{} of {}: {}, {side} the range ({})",
                common.players.len(),
                overview.measured,
                common.place.plain(),
                common.players.join(", ")
            )
        },
    );
    text += "\nWhat each drill moved (no proof: nobody was drawn by lot)\n";
    if drills.is_empty() {
        text += "  nothing prescribed yet\n";
    }
    for drill in drills {
        text += &format!("  {} ({})\n", drill.title, many(drill.players, "player"));
        for moved in &drill.aimed {
            text += &format!("    {}\n", moved_words(moved));
        }
        for moved in &drill.besides {
            text += &format!("    besides, {}\n", moved_words(moved));
        }
        if drill.looked_at > 0 {
            text += &format!(
                "    {} other numbers were looked at; one in twenty moves by chance\n",
                drill.looked_at
            );
        }
    }
    text
}

fn section<T>(text: &mut String, title: &str, lines: Vec<&T>, say: impl Fn(&T) -> String) {
    *text += &format!("{}{title}\n", if text.is_empty() { "" } else { "\n" });
    if lines.is_empty() {
        *text += "  nobody\n";
    }
    for line in lines {
        *text += &format!("  {}\n", say(line));
    }
}

fn person(line: &Line) -> String {
    let Some(progress) = &line.progress else {
        let why = match line.drafts {
            0 => "nothing to follow",
            _ => "a draft waits to be approved",
        };
        return format!("{}: {why}", line.name);
    };
    let unit = progress.aim.place.measure.unit();
    let change = progress.change().map(|change| {
        format!(
            " {} {},",
            change.verdict.plain().to_uppercase(),
            amount(change, unit)
        )
    });
    format!(
        "{}: {}, {}:{} {}",
        line.name,
        progress.given.title,
        progress.aim.place.plain(),
        change.unwrap_or_default(),
        progress.advice.step.plain()
    )
}

fn moved_words(moved: &Moved) -> String {
    let unit = moved.place.measure.unit();
    let mut text = format!(
        "{}, n = {}: {}",
        moved.place.plain(),
        moved.players,
        signed(moved.mean, unit)
    );
    match moved.pooled {
        Some(pooled) => text += &format!(" (95 % {})", between(pooled.interval, unit)),
        None => text += " (too few for an interval)",
    }
    match (moved.by_chance, moved.beyond_chance) {
        (Some(by), Some(beyond)) => {
            text += &format!(
                "; {} by chance alone, {} beyond it (95 % {})",
                signed(by, unit),
                signed(beyond.mean, unit),
                between(beyond.interval, unit)
            );
        }
        (Some(by), None) => text += &format!("; {} by chance alone", signed(by, unit)),
        (None, _) => {}
    }
    if moved.in_practice > 0 {
        text += &format!("; {} during practice only", moved.in_practice);
    }
    text
}

/// How well each number repeats.
pub fn repeatability(all: &[Repeatability]) -> String {
    if all.is_empty() {
        return "No number was taken twice yet: film a player's swing several times, on two days.\n".into();
    }
    let mut text = String::from(
        "Errors of this set-up: from swing to swing, from session to session; a change is beyond error from (one swing \
         each, five each); what the ± says; players, sessions, swings\n",
    );
    for one in all {
        let unit = one.place.measure.unit();
        let said = |v| size(v, unit);
        let [players, sessions, swings] = one.counts;
        text += &format!(
            "  {:58} {:>8} {:>8} {:>8} {:>8} {:>8}  {players}, {sessions}, {swings}{}\n",
            one.place.plain(),
            said(one.within),
            said(one.between),
            said(one.mdc_one),
            said(one.mdc_five),
            said(one.own),
            one.icc
                .map_or_else(String::new, |icc| format!("; ICC {icc:.2}"))
        );
        if let Some(retest) = &one.retest {
            text += &format!(
                "  {:58} two sessions of {} players: ICC(2,1) {:.2} ({:.2} to {:.2}), SEM {}, shift {} ({})\n",
                "",
                retest.table.n,
                retest.agreement,
                retest.interval.low,
                retest.interval.high,
                said(retest.table.sem()),
                signed(retest.shift.mean, unit),
                between(retest.shift.interval, unit)
            );
        }
    }
    text
}

/// What is noted of a swing now.
pub fn mark(swing: i64, mark: SwingMark) -> String {
    let kind = mark.occasion.map_or("not marked", |o| o.key());
    match mark.session_on {
        Some(day) => format!("Swing {swing}: {kind}, session of {day}\n"),
        None => format!("Swing {swing}: {kind}\n"),
    }
}

fn many(n: usize, what: &str) -> String {
    match n {
        1 => format!("1 {what}"),
        _ => format!("{n} {what}s"),
    }
}

fn due_words(due: Due) -> String {
    let day = date_of(due.day);
    match due.in_days {
        0 => format!("due today, {day}"),
        days if days < 0 => {
            format!(
                "due since {day} ({})",
                many(days.unsigned_abs() as usize, "day")
            )
        }
        days => format!("due on {day} (in {})", many(days as usize, "day")),
    }
}

/// A change with its interval, plus toward the number.
fn amount(change: &Change, unit: Unit) -> String {
    let sign = change.toward;
    let interval = match sign > 0.0 {
        true => change.interval,
        false => Interval {
            low: -change.interval.high,
            high: -change.interval.low,
        },
    };
    format!(
        "{} ({})",
        signed(sign * change.change, unit),
        between(interval, unit)
    )
}

fn between(interval: Interval, unit: Unit) -> String {
    format!(
        "{} to {}",
        signed(interval.low, unit),
        signed(interval.high, unit)
    )
}

fn signed(v: f64, unit: Unit) -> String {
    let text = size(v.abs(), unit);
    let nil = !text.chars().any(|c| ('1'..='9').contains(&c));
    match (nil, v < 0.0) {
        (true, _) => text,
        (_, true) => format!("-{text}"),
        (_, false) => format!("+{text}"),
    }
}

fn size(v: f64, unit: Unit) -> String {
    match unit {
        Unit::Centimetre => format!("{v:.1} cm"),
        Unit::Degree => format!("{v:.0}°"),
        Unit::Second => format!("{v:.2} s"),
        Unit::One => format!("{v:.2}"),
        Unit::Percent => format!("{v:.0} %"),
    }
}
