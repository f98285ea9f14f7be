//! `letter`: a progress letter after a follow-up, as a page and on paper; and the same for the studio's pages.

use crate::correct::travel_both;
use crate::pictures::picture_at;
use crate::surroundings::Surroundings;
use crate::trade::Own;
use anyhow::{Context, Result};
use clap::Args;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use jiff::{Timestamp, Zoned};
use lessonwright_coaching::follow::{Change, Counted, Progress, Roster, Step, Verdict};
use lessonwright_model::{Cancel, Day, Hand, View};
use lessonwright_print::letter_pdf;
use lessonwright_report::{
    How, LetterChange, LetterContent, LetterPicture, LetterVerdict, NextStep, Practised, Units,
    letter_page, letter_sheet,
};
use lessonwright_store::{Player, PlayerId, Store, SwingId, date_of, day_of};
use lessonwright_web::{LetterFiles, LetterOf};
use std::fs;
use std::path::PathBuf;
use std::sync::Arc;
use tokio::runtime::{Handle, Runtime};

#[derive(Args)]
pub struct LetterArguments {
    /// The player's name
    pub player: String,
    /// A few lines from you at its top
    #[arg(long)]
    pub note: Option<String>,
    /// Write the page to this file
    #[arg(long, value_name = "FILE", required_unless_present = "pdf")]
    pub out: Option<PathBuf>,
    /// Write it on paper (PDF, one page) to this file
    #[arg(long, value_name = "FILE")]
    pub pdf: Option<PathBuf>,
    /// The academy's name on it
    #[arg(long, default_value = "")]
    pub academy: String,
    /// The professional's name on it
    #[arg(long, default_value = "")]
    pub coach: String,
    /// The unit of length that comes first [default: as it is set]
    #[arg(long, value_enum)]
    pub units: Option<crate::arguments::UnitName>,
    /// As on this day [default: today]
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub on: Option<Date>,
}

/// Who writes it, and when.
#[derive(Clone)]
pub struct Writer {
    pub academy: String,
    pub coach: String,
    /// As it is set for the player where none.
    pub units: Option<Units>,
    pub today: Date,
}

/// The command.
pub fn run(
    around: &Surroundings,
    arguments: &LetterArguments,
    runtime: &Runtime,
    cancel: &Cancel,
) -> Result<()> {
    let writer = Writer {
        academy: arguments.academy.clone(),
        coach: arguments.coach.clone(),
        units: arguments.units.map(Units::from),
        today: arguments.on.unwrap_or_else(|| Zoned::now().date()),
    };
    let files = runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let player = store.player_named(&arguments.player).await?;
        let player = player.with_context(|| {
            format!("there is no player \"{}\" in the studio", arguments.player)
        })?;
        write(
            around,
            &store,
            player.id,
            &writer,
            arguments.note.clone(),
            cancel,
        )
        .await
    })?;
    for (what, out, bytes) in [
        ("Letter", &arguments.out, files.page.as_bytes()),
        ("Letter on paper", &arguments.pdf, files.paper.as_slice()),
    ] {
        let Some(out) = out else { continue };
        fs::write(out, bytes).with_context(|| format!("writing {}", out.display()))?;
        println!("{what}: {}", out.display());
    }
    Ok(())
}

/// For the studio's pages.
pub fn writing(
    around: Arc<Surroundings>,
    store: Store,
    writer: impl Fn() -> Writer + Send + Sync + 'static,
    cancel: Cancel,
) -> LetterOf {
    Arc::new(move |player, note| {
        let (around, store, cancel) = (Arc::clone(&around), store.clone(), cancel.clone());
        let writer = writer();
        Box::pin(async move {
            // Pictures are decoded for it: no work for the threads that answer.
            let written = tokio::task::spawn_blocking(move || {
                let letter = write(&around, &store, player, &writer, note, &cancel);
                Handle::current().block_on(letter)
            });
            let written = written.await.map_err(|error| error.to_string())?;
            written.map_err(|error| format!("{error:#}."))
        })
    })
}

async fn write(
    around: &Surroundings,
    store: &Store,
    player: PlayerId,
    writer: &Writer,
    note: Option<String>,
    cancel: &Cancel,
) -> Result<LetterFiles> {
    // As for a lesson: nothing of a minor without consent, and what counts is what was approved.
    store.check_film_allowed(player).await?;
    let player = store
        .player(player)
        .await?
        .context("the player was erased meanwhile")?;
    let roster = Roster::of(store.histories(&TimeZone::system()).await?);
    let history = roster
        .player(player.id.0)
        .context("the player was erased meanwhile")?;
    let all = roster.progress(history, day_of(writer.today));
    let progress = all.into_iter().next().with_context(|| {
        format!(
            "there is nothing to write about: no exercise with a number to reach was approved for {}",
            player.facts.name
        )
    })?;
    let own = Own::load(&around.studio)?;
    let screened = own.screening.screen(&player.facts, Timestamp::now());
    let next = match (screened.blocked.is_empty(), progress.advice.step) {
        (false, _) => NextStep::Wait(screened.blocked.join(" ")),
        (true, Step::Film) => NextStep::Film,
        (true, Step::Keep) => NextStep::Keep,
        (true, Step::Progress) => NextStep::Progress,
        (true, Step::Change) => NextStep::Change,
    };
    let pictures = then_and_now(around, store, &progress, cancel).await?;
    let units = match writer.units {
        Some(units) => units,
        None => store.units_for(player.id).await?,
    };
    let content = LetterContent {
        units,
        ..content(&player, &progress, writer, note, next, pictures)
    };
    Ok(LetterFiles {
        page: letter_page(&content)?,
        paper: letter_pdf(&letter_sheet(&content)?)?,
    })
}

fn content(
    player: &Player,
    progress: &Progress,
    writer: &Writer,
    note: Option<String>,
    next: NextStep,
    pictures: Option<Box<[LetterPicture; 2]>>,
) -> LetterContent {
    let place = progress.aim.place;
    let practised = |counted: Counted| {
        let numbers = progress
            .series
            .after
            .iter()
            .filter(|n| n.counted == counted);
        let swings = numbers.count();
        (swings > 0).then(|| Practised {
            how: match counted {
                Counted::Practice => How::Practice,
                Counted::Unmarked => How::NotSaid,
                Counted::Retention => How::Later,
                Counted::Transfer => How::Elsewhere,
            },
            days: progress.series.after_as(counted).len(),
            swings,
        })
    };
    LetterContent {
        academy: writer.academy.clone(),
        coach: writer.coach.clone(),
        player: player.facts.name.clone(),
        date_text: spelled(writer.today),
        note: note.filter(|note| !note.trim().is_empty()),
        units: Units::default(),
        drill: progress.given.title.clone(),
        since: spelled(date_of(progress.given.day)),
        measure: place.measure,
        moment: place.moment,
        against: place.against,
        goal: progress.aim.goal,
        change: progress
            .change()
            .map(|change| changed(change, progress.headline)),
        practice: Counted::ALL.into_iter().filter_map(practised).collect(),
        next,
        pictures,
        hand: player.facts.hand.unwrap_or(Hand::Right),
    }
}

fn changed(change: &Change, headline: Option<Counted>) -> LetterChange {
    LetterChange {
        verdict: match change.verdict {
            Verdict::Real => LetterVerdict::Real,
            Verdict::NotYet => LetterVerdict::NotYet,
            Verdict::Away => LetterVerdict::Away,
        },
        before: change.before,
        after: change.after,
        low: change.interval.low,
        high: change.interval.high,
        toward: change.toward,
        reached: change.reached,
        in_practice_only: headline == Some(Counted::Practice),
        swings_before: change.from[1],
    }
}

/// The last swing before and the last one that the verdict rests on, at the moment of the number; none where one of them is missing
/// or the two share no view.
async fn then_and_now(
    around: &Surroundings,
    store: &Store,
    progress: &Progress,
    cancel: &Cancel,
) -> Result<Option<Box<[LetterPicture; 2]>>> {
    let series = &progress.series;
    let rests_on = |counted| Some(counted) == progress.headline;
    let then = series.before.last();
    let now = series.after.iter().rfind(|number| rests_on(number.counted));
    let (Some(then), Some(now)) = (then, now) else {
        return Ok(None);
    };
    // A swing of an early version can't be gone through again, and one put on record elsewhere has no film.
    let ids = [then.swing, now.swing].map(SwingId);
    for id in ids {
        if store.brief(id).await?.is_none() || store.clips_of(id).await?.is_empty() {
            return Ok(None);
        }
    }
    let both = travel_both(around, store, ids, cancel).await?;
    let moment = progress.aim.place.moment;
    let views = match then.taken.view {
        Some(view) => vec![view],
        None => vec![View::FaceOn, View::DownTheLine],
    };
    for view in views {
        let pictures = [
            picture_at(around, &both[0], view, moment, cancel)?,
            picture_at(around, &both[1], view, moment, cancel)?,
        ];
        if let [Some(before), Some(after)] = pictures {
            let one = |picture, day: Day, value| LetterPicture {
                picture,
                day: spelled(date_of(day)),
                value: Some(value),
            };
            return Ok(Some(Box::new([
                one(before, then.day, then.taken.value),
                one(after, now.day, now.taken.value),
            ])));
        }
    }
    Ok(None)
}

/// "25 November 2026".
fn spelled(date: Date) -> String {
    date.strftime("%-d %B %Y").to_string()
}
