//! The cause network in another language: the same facts and links, said otherwise (`data/de/causes.toml`).

use super::{BodyFact, CauseTable, ClubFact, FORMAT, Named};
use crate::data_error::{self, DataError};
use crate::wording::{Placeholders, check_template};
use lessonwright_language::Language;
use serde::Deserialize;
use std::collections::BTreeMap;

const GERMAN: &str = include_str!("../../data/de/causes.toml");

/// Words by the keys of what they are of.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Words {
    limit: BTreeMap<String, String>,
    goal: BTreeMap<String, String>,
    body: BTreeMap<String, BodyWords>,
    club: BTreeMap<String, ClubWords>,
    /// By the English ones.
    source: BTreeMap<String, String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct BodyWords {
    short: String,
    title: String,
    says: Option<String>,
    trade: Option<String>,
    seen: String,
    would_change_it: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ClubWords {
    short: String,
    says: String,
    #[serde(default)]
    flights: BTreeMap<String, String>,
}

impl CauseTable {
    /// The table said in a language. Our words stand in for our own English ones only: what the professional has written
    /// stays as it was written.
    ///
    /// # Panics
    /// Never with the embedded words, which a test reads.
    pub fn in_language(mut self, language: Language) -> CauseTable {
        if language == self.language {
            return self;
        }
        self.language = language;
        if language == Language::German {
            let words = Words::parse("de/causes.toml", GERMAN)
                .unwrap_or_else(|error| panic!("the embedded words are sound: {error}"));
            words.put_into(&mut self, &CauseTable::standard());
        }
        self
    }

    /// The language it is said in.
    pub fn language(&self) -> Language {
        self.language
    }
}

impl Words {
    fn parse(file: &str, text: &str) -> Result<Words, DataError> {
        let words: Words = data_error::read(file, text)?;
        for (text, allowed) in words.texts() {
            check_template(text, allowed)
                .map_err(|problem| DataError::content(file, text, problem))?;
        }
        Ok(words)
    }

    fn texts(&self) -> impl Iterator<Item = (&String, Placeholders)> {
        let named = self.limit.values().chain(self.goal.values());
        let bodies = self
            .body
            .values()
            .flat_map(|b| [&b.short, &b.title, &b.seen, &b.would_change_it]);
        let clubs = self.club.values().flat_map(|c| [&c.short, &c.says]);
        let flights = self.club.values().flat_map(|c| c.flights.values());
        let sides = named.chain(bodies).chain(clubs).chain(flights);
        let numbers = self.body.values().flat_map(|b| [&b.says, &b.trade]);
        sides.map(|text| (text, Placeholders::Sides)).chain(
            numbers
                .flatten()
                .map(|text| (text, Placeholders::SidesAndNumbers)),
        )
    }

    fn put_into(&self, table: &mut CauseTable, ours: &CauseTable) {
        debug_assert_eq!(table.format, FORMAT);
        named(&mut table.limits, &ours.limits, &self.limit);
        named(&mut table.goals, &ours.goals, &self.goal);
        for link in table.bodies.iter_mut().flat_map(|body| &mut body.clubs) {
            if let Some(words) = self.source.get(&link.source) {
                link.source.clone_from(words);
            }
        }
        for body in &mut table.bodies {
            if let (Some(ours), Some(words)) = (ours.body(&body.key), self.body.get(&body.key)) {
                words.put_into(body, ours);
            }
        }
        for club in &mut table.clubs {
            if let (Some(ours), Some(words)) = (ours.club(&club.key), self.club.get(&club.key)) {
                words.put_into(club, ours);
            }
        }
    }
}

/// Puts words in place of a text that is our own.
fn put(text: &mut String, ours: &str, words: &str) {
    if text == ours {
        words.clone_into(text);
    }
}

fn named(all: &mut [Named], ours: &[Named], words: &BTreeMap<String, String>) {
    for one in all {
        let ours = ours.iter().find(|known| known.key == one.key);
        if let (Some(ours), Some(words)) = (ours, words.get(&one.key)) {
            put(&mut one.says, &ours.says, words);
        }
    }
}

impl BodyWords {
    fn put_into(&self, body: &mut BodyFact, ours: &BodyFact) {
        put(&mut body.short, &ours.short, &self.short);
        put(&mut body.title, &ours.title, &self.title);
        put(&mut body.seen, &ours.seen, &self.seen);
        let (own, words) = (&mut body.would_change_it, &self.would_change_it);
        put(own, &ours.would_change_it, words);
        if let (Some(shown), Some(ours)) = (&mut body.shown, &ours.shown) {
            let texts = [
                (&mut shown.says, &ours.says, &self.says),
                (&mut shown.trade, &ours.trade, &self.trade),
            ];
            for (text, ours, words) in texts {
                if let Some(words) = words {
                    put(text, ours, words);
                }
            }
        }
    }
}

impl ClubWords {
    fn put_into(&self, club: &mut ClubFact, ours: &ClubFact) {
        put(&mut club.short, &ours.short, &self.short);
        put(&mut club.says, &ours.says, &self.says);
        for link in &mut club.flights {
            let ours = ours
                .flights
                .iter()
                .find(|known| known.flight == link.flight);
            if let (Some(ours), Some(words)) = (ours, self.flights.get(link.flight.key())) {
                put(&mut link.says, &ours.says, words);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_word_is_there_in_german() {
        let words = Words::parse("de/causes.toml", GERMAN).unwrap();
        let (ours, german) = (
            CauseTable::standard(),
            CauseTable::standard().in_language(Language::German),
        );
        let pairs = texts(&ours).zip(texts(&german));
        let same: Vec<_> = pairs.filter(|(one, other)| one == other).collect();
        assert!(same.is_empty(), "not in German: {same:?}");
        // And none is left over.
        let sources = ours.bodies.iter().flat_map(|body| &body.clubs);
        let sources: BTreeSet<&String> = sources.map(|link| &link.source).collect();
        assert!(words.source.keys().all(|english| sources.contains(english)));
        assert_eq!(words.body.len(), ours.bodies.len());
        assert_eq!(words.club.len(), ours.clubs.len());
        assert_eq!(
            (words.limit.len(), words.goal.len()),
            (ours.limits.len(), ours.goals.len())
        );
        for (one, other) in texts(&ours).zip(texts(&german)) {
            for number in ["{value}", "{band}"] {
                assert_eq!(one.contains(number), other.contains(number), "{other}");
            }
        }
    }

    #[test]
    fn what_the_professional_has_written_stays_as_written() {
        let text = CauseTable::standard_toml();
        let own = "Turn the hands as Ada does";
        let title = "Turn both hands a little more to the {trail} on the handle";
        let own_table = CauseTable::parse("own.toml", &text.replacen(title, own, 1)).unwrap();
        let german = own_table.in_language(Language::German);
        let body = german.body("grip_weak").unwrap();
        assert_eq!(body.title, own);
        assert!(body.seen.starts_with("Ihre Hände"), "{}", body.seen);
    }

    /// All that is read.
    fn texts(table: &CauseTable) -> impl Iterator<Item = &String> {
        let named = table.limits.iter().chain(&table.goals).map(|n| &n.says);
        let bodies = table.bodies.iter().flat_map(|b| {
            let numbers = b.shown.iter().flat_map(|shown| [&shown.says, &shown.trade]);
            let sources = b.clubs.iter().map(|link| &link.source);
            [&b.short, &b.title, &b.seen, &b.would_change_it]
                .into_iter()
                .chain(numbers)
                .chain(sources)
        });
        let clubs = table.clubs.iter().flat_map(|c| {
            let flights = c.flights.iter().map(|link| &link.says);
            [&c.short, &c.says].into_iter().chain(flights)
        });
        named.chain(bodies).chain(clubs)
    }
}
