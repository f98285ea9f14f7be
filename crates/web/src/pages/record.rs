//! What is kept of a player beside swings and lessons: appointments, notes, consents.

use crate::AppState;
use crate::diary::DiaryEntry;
use crate::error::PageError;
use crate::player_record::{note_address, record_address};
use crate::wording::today;
use jiff::civil::Date;
use lessonwright_language::{Text, t, when};
use lessonwright_model::{Hand, Language, units};
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
    pub day: Text,
    pub text: String,
}

pub struct ConsentShown {
    pub key: &'static str,
    pub says: Text,
    pub in_force: bool,
    /// Who agreed when, or that nobody did.
    pub stands: Text,
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
            day: when::date(note.noted_on),
            text: note.text,
        }
    }
}

impl ConsentShown {
    fn of(purpose: Purpose, all: &Consents, is_minor: bool) -> ConsentShown {
        let stands = match all.latest(purpose) {
            None if purpose == Purpose::Filming && is_minor => t("player-consent-no-film"),
            None if purpose == Purpose::Sending => t("player-consent-no-sending"),
            None => t("player-consent-none"),
            Some(one) => {
                let given = t(if one.given.by_guardian {
                    "player-consent-given-guardian"
                } else {
                    "player-consent-given"
                })
                .with("who", &one.given.given_by)
                .with("day", one.given.given_on);
                match one.withdrawn_on {
                    None => given,
                    Some(on) => t("player-consent-was-withdrawn")
                        .with("day", on)
                        .with("given", given),
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

fn says(purpose: Purpose) -> Text {
    t(match purpose {
        Purpose::Filming => "player-consent-film",
        Purpose::Teaching => "player-consent-teach",
        Purpose::Sending => "player-consent-send",
        Purpose::Showing => "player-consent-show",
    })
}

/// Centimetres without needless digits.
fn stature_cm(metres: f64) -> String {
    ((units::cm(metres) * 10.0).round() / 10.0).to_string()
}
