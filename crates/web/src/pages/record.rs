//! What is kept of a player beside swings and lessons: appointments, notes, consents.

use crate::AppState;
use crate::diary::DiaryEntry;
use crate::error::PageError;
use crate::player_record::{note_address, record_address};
use crate::wording::today;
use jiff::civil::Date;
use lessonwright_model::{Language, Hand, units};
use lessonwright_store::{Consents, Note, OF_AGE_YEARS, Player, PlayerId, Purpose, Store};

/// The record, and where its forms go.
pub struct Record {
    pub key: String,
    pub today: Date,
    pub is_minor: bool,
    pub facts: String,
    pub right: bool,
    pub left: bool,
    /// Tag and name of each language, and whether it is the player's.
    pub languages: Vec<(&'static str, &'static str, bool)>,
    pub stature_cm: String,
    pub diary: Vec<DiaryEntry>,
    pub new_note: String,
    pub notes: Vec<NoteShown>,
    pub consent: String,
    pub consents: Vec<ConsentShown>,
}

pub struct NoteShown {
    pub address: String,
    pub date: Date,
    pub day: String,
    pub text: String,
}

pub struct ConsentShown {
    pub key: &'static str,
    pub says: &'static str,
    pub in_force: bool,
    /// Who agreed when, or that nobody did.
    pub stands: String,
}

impl Record {
    pub async fn of(store: &Store, state: &AppState, player: &Player) -> Result<Record, PageError> {
        let id = player.id;
        let facts = &player.facts;
        let midnight = today(state).to_zoned(state.time_zone.clone());
        let from = midnight.map_or((state.now)(), |zoned| zoned.timestamp());
        let diary = store.appointments_of(id, from).await?;
        let notes = store.notes_of(id).await?;
        let consents = store.consents_of(id).await?;
        let is_minor = facts.age_years.is_some_and(|age| age < OF_AGE_YEARS);
        Ok(Record {
            key: id.to_string(),
            today: today(state),
            is_minor,
            facts: record_address(id, "facts"),
            right: facts.hand == Some(Hand::Right),
            left: facts.hand == Some(Hand::Left),
            languages: Language::ALL
                .map(|one| (one.tag(), one.own_name(), facts.language == Some(one)))
                .to_vec(),
            stature_cm: facts.stature_m.map(stature_cm).unwrap_or_default(),
            diary: diary.iter().map(|one| DiaryEntry::of(one, state)).collect(),
            new_note: record_address(id, "notes"),
            notes: notes
                .into_iter()
                .map(|note| NoteShown::of(note, id))
                .collect(),
            consent: record_address(id, "consent"),
            consents: Purpose::ALL
                .map(|purpose| ConsentShown::of(purpose, &consents, is_minor))
                .into(),
        })
    }
}

impl NoteShown {
    fn of(note: Note, player: PlayerId) -> NoteShown {
        NoteShown {
            address: note_address(player, note.id),
            date: note.noted_on,
            day: spelled(note.noted_on),
            text: note.text,
        }
    }
}

impl ConsentShown {
    fn of(purpose: Purpose, all: &Consents, is_minor: bool) -> ConsentShown {
        let stands = match all.latest(purpose) {
            None if purpose == Purpose::Filming && is_minor => {
                "not on record: no film is kept".into()
            }
            None if purpose == Purpose::Sending => "not on record: no lesson is sent".into(),
            None => "not on record".into(),
            Some(one) => {
                let role = if one.given.by_guardian {
                    ", guardian,"
                } else {
                    ""
                };
                let given = format!(
                    "{}{role} {}",
                    one.given.given_by,
                    spelled(one.given.given_on)
                );
                match one.withdrawn_on {
                    None => given,
                    Some(on) => format!("withdrawn on {} (was: {given})", spelled(on)),
                }
            }
        };
        ConsentShown {
            key: purpose.key(),
            says: says(purpose),
            in_force: all.in_force(purpose).is_some(),
            stands,
        }
    }
}

fn says(purpose: Purpose) -> &'static str {
    match purpose {
        Purpose::Filming => "To be filmed, and the films kept",
        Purpose::Teaching => "Films and numbers used to teach this player",
        Purpose::Sending => "To be sent lessons with pictures",
        Purpose::Showing => "Films and numbers shown to others",
    }
}

/// "4 November 2026".
fn spelled(day: Date) -> String {
    day.strftime("%-d %B %Y").to_string()
}

/// Centimetres without needless digits.
fn stature_cm(metres: f64) -> String {
    ((units::cm(metres) * 10.0).round() / 10.0).to_string()
}
