//! `diary`: who comes when; `sent`: lessons that went out; `find`: the search. What Today's page does, as commands.

use crate::player::named;
use crate::surroundings::Surroundings;
use anyhow::{Context, Result};
use clap::{Args, Subcommand};
use jiff::civil::{Date, DateTime, Time};
use jiff::tz::TimeZone;
use jiff::{Timestamp, ToSpan};
use lessonwright_store::{Appointment, AppointmentId, Found, FoundKind, LessonId, Planned, Store};
use lessonwright_web::offer_to_search;
use tokio::runtime::Runtime;

#[derive(Subcommand)]
pub enum DiaryCommand {
    /// Say who comes
    List {
        /// From this day on [default: today]
        #[arg(long, value_name = "YYYY-MM-DD")]
        from: Option<Date>,
        /// So many days
        #[arg(long, default_value_t = 8)]
        days: i32,
    },
    /// Write an appointment down
    Add {
        /// The player's name
        player: String,
        #[command(flatten)]
        when: When,
        /// How long, minutes
        #[arg(long, default_value_t = 45)]
        minutes: u32,
        /// Where
        #[arg(long, default_value = "")]
        place: String,
        /// What for
        #[arg(long = "for", value_name = "WORDS", default_value = "")]
        purpose: String,
    },
    /// Move an appointment; what is not given stays
    Move {
        /// Its number, as `list` says it
        number: i64,
        #[command(flatten)]
        when: When,
        /// How long, minutes
        #[arg(long)]
        minutes: Option<u32>,
        /// Where
        #[arg(long)]
        place: Option<String>,
        /// What for
        #[arg(long = "for", value_name = "WORDS")]
        purpose: Option<String>,
    },
    /// Take an appointment out
    Cancel {
        /// Its number
        number: i64,
    },
}

/// A day and a time of day in this machine's time zone.
#[derive(Args)]
pub struct When {
    /// The day
    #[arg(long, value_name = "YYYY-MM-DD")]
    on: Date,
    /// The time of day
    #[arg(long, value_name = "HH:MM")]
    at: Time,
}

impl When {
    fn instant(&self) -> Result<Timestamp> {
        let zoned = DateTime::from_parts(self.on, self.at).to_zoned(TimeZone::system());
        Ok(zoned.context("that time does not exist here")?.timestamp())
    }
}

/// Do it and say so.
pub fn run(around: &Surroundings, what: &DiaryCommand, runtime: &Runtime) -> Result<String> {
    runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        match what {
            DiaryCommand::List { from, days } => list(&store, *from, *days).await,
            DiaryCommand::Add {
                player,
                when,
                minutes,
                place,
                purpose,
            } => {
                let planned = Planned {
                    player: named(&store, player).await?.id,
                    starts_at: when.instant()?,
                    minutes: *minutes,
                    place: place.clone(),
                    purpose: purpose.clone(),
                };
                let id = store.add_appointment(&planned).await?;
                said(&store, id).await
            }
            DiaryCommand::Move {
                number,
                when,
                minutes,
                place,
                purpose,
            } => {
                let id = AppointmentId(*number);
                let known = store.appointment(id).await?;
                let known = known
                    .with_context(|| format!("there is no appointment {number}"))?
                    .planned;
                let planned = Planned {
                    player: known.player,
                    starts_at: when.instant()?,
                    minutes: minutes.unwrap_or(known.minutes),
                    place: place.clone().unwrap_or(known.place),
                    purpose: purpose.clone().unwrap_or(known.purpose),
                };
                store.move_appointment(id, &planned).await?;
                said(&store, id).await
            }
            DiaryCommand::Cancel { number } => {
                store.cancel_appointment(AppointmentId(*number)).await?;
                Ok(format!("Appointment {number} is cancelled.\n"))
            }
        }
    })
}

async fn list(store: &Store, from: Option<Date>, days: i32) -> Result<String> {
    let from = from.unwrap_or_else(|| jiff::Zoned::now().date());
    let begin = |day: Date| Ok::<_, jiff::Error>(day.to_zoned(TimeZone::system())?.timestamp());
    let until = from.saturating_add(days.days());
    let all = store
        .appointments_between(begin(from)?, begin(until)?)
        .await?;
    match all.is_empty() {
        true => Ok("Nobody comes.\n".into()),
        false => Ok(all.iter().map(line).collect()),
    }
}

async fn said(store: &Store, id: AppointmentId) -> Result<String> {
    let kept = store.appointment(id).await?;
    Ok(kept.as_ref().map(line).unwrap_or_default())
}

/// "3  Thu 26 Nov 2026 14:30, 45 min  Tom Hallam – first lesson, mat".
fn line(one: &Appointment) -> String {
    let planned = &one.planned;
    let at = planned.starts_at.to_zoned(TimeZone::system());
    let words: Vec<&str> = [planned.purpose.as_str(), planned.place.as_str()]
        .into_iter()
        .filter(|text| !text.is_empty())
        .collect();
    let words = match words.is_empty() {
        true => String::new(),
        false => format!(" – {}", words.join(", ")),
    };
    format!(
        "{}  {}, {} min  {}{words}\n",
        one.id,
        at.strftime("%a %-d %b %Y %H:%M"),
        planned.minutes,
        one.name
    )
}

/// Notes that lessons went out.
pub fn sent(around: &Surroundings, lessons: &[i64], runtime: &Runtime) -> Result<String> {
    runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let mut said = String::new();
        for lesson in lessons {
            store
                .mark_lesson_sent(LessonId(*lesson), Timestamp::now())
                .await?;
            said += &format!("Lesson {lesson} is marked as sent.\n");
        }
        Ok(said)
    })
}

/// Of each kind so many are printed.
const MOST: usize = 10;

/// Searches everything.
pub fn find(around: &Surroundings, words: &[String], runtime: &Runtime) -> Result<String> {
    let found = runtime.block_on(async {
        let store = Store::open(&around.studio).await?;
        let own = crate::trade::Own::load(&around.studio)?;
        offer_to_search(&store, &own.causes, &own.book).await?;
        anyhow::Ok(store.search(&words.join(" "), MOST).await?)
    })?;
    match found.is_empty() {
        true => Ok("Nothing has these words.\n".into()),
        false => Ok(found.iter().map(found_line).collect()),
    }
}

fn found_line(found: &Found) -> String {
    let kind = match found.kind {
        FoundKind::Player => "player",
        FoundKind::Lesson => "lesson",
        FoundKind::Swing => "swing",
        FoundKind::Note => "note",
        FoundKind::Drill => "drill",
    };
    let excerpt = found.excerpt.replace(Found::MARKS, "");
    let key = match found.kind {
        FoundKind::Drill => String::new(),
        _ => format!(" {}", found.key),
    };
    format!("{kind}{key}: {} – {excerpt}\n", found.title)
}
