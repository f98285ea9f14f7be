//! `player consent` and `player note`: what the forms on a player's page do.

use crate::player::named;
use anyhow::{Context, Result, bail};
use clap::{Args, ValueEnum};
use jiff::Timestamp;
use jiff::civil::Date;
use lessonwright_store::{NewConsent, NoteId, OF_AGE_YEARS, Purpose, Store};

#[derive(Args)]
pub struct ConsentArguments {
    /// The player's name
    player: String,
    /// To what; without it all that is on record is said
    #[arg(long, value_enum, value_name = "WHAT")]
    to: Option<PurposeName>,
    /// Who agreed: a minor's guardian [default: the player]
    #[arg(long, value_name = "NAME", requires = "to")]
    by: Option<String>,
    /// On which day [default: today]
    #[arg(long, value_name = "YYYY-MM-DD", requires = "to")]
    on: Option<Date>,
    /// It was withdrawn
    #[arg(long, requires = "to", conflicts_with = "by")]
    withdrawn: bool,
}

#[derive(Clone, Copy, ValueEnum)]
enum PurposeName {
    Filming,
    Teaching,
    Sending,
    Showing,
}

#[derive(Args)]
pub struct NoteArguments {
    /// The player's name
    player: String,
    /// The note; without it the notes are listed
    text: Option<String>,
    /// The day it is about [default: today, or as it was]
    #[arg(long, value_name = "YYYY-MM-DD")]
    on: Option<Date>,
    /// Change the note of this number
    #[arg(long, value_name = "N", requires = "text")]
    change: Option<i64>,
    /// Delete the note of this number
    #[arg(long, value_name = "N", conflicts_with_all = ["text", "change"])]
    delete: Option<i64>,
}

impl From<PurposeName> for Purpose {
    fn from(name: PurposeName) -> Purpose {
        match name {
            PurposeName::Filming => Purpose::Filming,
            PurposeName::Teaching => Purpose::Teaching,
            PurposeName::Sending => Purpose::Sending,
            PurposeName::Showing => Purpose::Showing,
        }
    }
}

/// Notes a consent or its withdrawal, and says what is on record.
pub async fn consent(store: &Store, asked: &ConsentArguments) -> Result<String> {
    let player = named(store, &asked.player).await?;
    let today = jiff::Zoned::now().date();
    let on = asked.on.unwrap_or(today);
    if on > today {
        bail!("{on} is still to come");
    }
    match asked.to.map(Purpose::from) {
        Some(purpose) if asked.withdrawn => store.withdraw_consent(player.id, purpose, on).await?,
        Some(purpose) => {
            let is_minor = player.facts.age_years.is_some_and(|age| age < OF_AGE_YEARS);
            let given_by = match &asked.by {
                Some(by) => by.clone(),
                None if is_minor => bail!("a minor's guardian agrees: say who with --by"),
                None => player.facts.name.clone(),
            };
            let consent = NewConsent {
                purpose,
                given_by,
                by_guardian: is_minor,
                given_on: on,
            };
            store.record_consent(player.id, &consent).await?;
        }
        None => {}
    }
    let all = store.consents_of(player.id).await?;
    let line = |purpose: Purpose| {
        let stands = match all.latest(purpose) {
            None => "not on record".into(),
            Some(one) => match one.withdrawn_on {
                None => format!("{}, {}", one.given.given_by, one.given.given_on),
                Some(on) => format!("withdrawn on {on}"),
            },
        };
        format!("{}: {stands}\n", purpose.key())
    };
    Ok(Purpose::ALL.map(line).concat())
}

/// Writes, changes or deletes a note, and lists what is there.
pub async fn note(store: &Store, asked: &NoteArguments) -> Result<String> {
    let player = named(store, &asked.player).await?;
    let at = Timestamp::now();
    let today = jiff::Zoned::now().date();
    if let Some(number) = asked.change.or(asked.delete) {
        let known = store.note(NoteId(number)).await?;
        let known = known.filter(|note| note.player == player.id);
        let known = known.with_context(|| format!("{} has no note {number}", player.facts.name))?;
        match &asked.text {
            Some(text) => {
                let on = asked.on.unwrap_or(known.noted_on);
                store.change_note(known.id, on, text, at).await?;
            }
            None => store.delete_note(known.id).await?,
        }
    } else if let Some(text) = &asked.text {
        store
            .add_note(player.id, asked.on.unwrap_or(today), text, at)
            .await?;
    }
    let notes = store.notes_of(player.id).await?;
    match notes.is_empty() {
        true => Ok("No notes.\n".into()),
        false => Ok(notes
            .iter()
            .map(|note| format!("{}  {}  {}\n", note.id, note.noted_on, note.text))
            .collect()),
    }
}
