//! The questions at the door, the same as those of the page "film and send": read from a plain form, checked, put on record,
//! and what follows from them for the player's facts.

use crate::routes::Fields;
use jiff::Timestamp;
use jiff::civil::Date;
use lessonwright_coaching::Told;
use lessonwright_exchange::Answers;
use lessonwright_language::{Text, t, words};
use lessonwright_model::{BodyArea, Pain, PlayerFacts, STRONGEST_PAIN, Screening};
use lessonwright_report::{CLUBS, FLIGHTS};
use lessonwright_store::TakenIn;
use serde::Serialize;
use sha2::{Digest, Sha256};

/// So many places that hurt can be told of.
pub const PLACES: usize = 3;

/// A player's facts after these answers: the flight, if the cause table knows it, and what hurts. A form that nobody asked
/// face to face never takes pain back.
pub fn facts_with(facts: &PlayerFacts, answers: &Answers, now: Timestamp) -> PlayerFacts {
    let mut facts = facts.clone();
    if matches!(Told::read(Some(&answers.flight)), Told::Flights(_)) {
        facts.usual_flight = Some(answers.flight.clone());
    }
    if !answers.pains.is_empty() {
        let before = facts.screening.as_ref();
        facts.screening = Some(Screening::with_pains(before, &answers.pains, now));
    }
    facts
}

/// Reads the form.
///
/// # Errors
/// What is missing or wrong, for the player.
pub fn read(fields: &Fields) -> Result<Answers, Text> {
    let said = |name: &str| fields.get(name).map_or("", |text| text.trim());
    let known = |list: &[(&'static str, &str)], key: &str| {
        let found = list.iter().find(|(known, _)| *known == key);
        found.map_or_else(String::new, |(known, _)| (*known).to_owned())
    };
    let mut pains: Vec<Pain> = Vec::new();
    for place in 1..=PLACES {
        let Some(area) = BodyArea::of_key(said(&format!("area_{place}"))) else {
            continue;
        };
        let strength = said(&format!("strength_{place}")).parse();
        let strength = strength.ok().filter(|s| (1..=STRONGEST_PAIN).contains(s));
        let strength =
            strength.ok_or_else(|| t("personal-how-much").with("area", words::area(area)))?;
        pains.retain(|known| known.area != area);
        pains.push(Pain { area, strength });
    }
    match said("pain") {
        "yes" if pains.is_empty() => return Err(t("send-say-where")),
        "no" if !pains.is_empty() => {
            return Err(t("personal-which-is-it"));
        }
        "yes" | "no" => {}
        _ => return Err(t("personal-choose-pain")),
    }
    let answers = Answers {
        pains,
        pain_answered: true,
        flight: known(&FLIGHTS, said("flight")),
        club: known(&CLUBS, said("club")),
        feel: said("feel").to_owned(),
        words: said("words").to_owned(),
    };
    let too_long = |_| t("personal-too-long");
    answers.check().map_err(too_long)?;
    Ok(answers)
}

/// What goes on record of a form.
#[derive(Serialize)]
struct OnRecord<'a> {
    kind: &'static str,
    version: u32,
    /// The page it was on: the same form twice is one.
    form: &'a str,
    answered_on: Date,
    answers: &'a Answers,
}

/// The answers as they go on record.
///
/// # Errors
/// If they can't be written as JSON.
pub fn record(
    answers: &Answers,
    form: &str,
    on: Date,
    at: Timestamp,
) -> Result<TakenIn, serde_json::Error> {
    let text = serde_json::to_string(&OnRecord {
        kind: "lessonwright-answers",
        version: 1,
        form,
        answered_on: on,
        answers,
    })?;
    let sha256 = Sha256::digest(&text);
    Ok(TakenIn {
        sha256: sha256.iter().map(|byte| format!("{byte:02x}")).collect(),
        answers: text,
        taken_at: at,
    })
}

/// "It hurts: knee 4 of 10", in a line for the professional.
pub fn pain_words(answers: &Answers) -> Text {
    let one = |pain: &Pain| {
        t("personal-pain")
            .with("area", words::area(pain.area))
            .with("strength", pain.strength)
            .with("strongest", STRONGEST_PAIN)
    };
    if !answers.pains.is_empty() {
        let pains = Text::joined(answers.pains.iter().map(one), ", ");
        return t("personal-it-hurts").with("pains", pains);
    }
    t(match answers.pain_answered {
        true => "personal-nothing-hurts",
        false => "personal-pain-unanswered",
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fields(pairs: &[(&str, &str)]) -> Fields {
        let own = |(name, text): &(&str, &str)| ((*name).to_owned(), (*text).to_owned());
        pairs.iter().map(own).collect()
    }

    #[test]
    fn pain_has_to_be_answered_and_the_answers_agree() {
        let knee = [("pain", "yes"), ("area_2", "knee"), ("strength_2", "4")];
        let read_knee = read(&fields(&knee)).unwrap();
        let pain = Pain {
            area: BodyArea::Knee,
            strength: 4,
        };
        assert_eq!(read_knee.pains, [pain]);
        assert_eq!(read(&fields(&[("pain", "no")])).unwrap().pains, []);
        for wrong in [
            &[][..],
            &[("pain", "perhaps")],
            &[("pain", "yes")],
            &[("pain", "yes"), ("area_1", "knee")],
            &[("pain", "yes"), ("area_1", "knee"), ("strength_1", "11")],
            &[("pain", "no"), ("area_1", "knee"), ("strength_1", "3")],
            &[("pain", "no"), ("words", &"x".repeat(2001))],
        ] {
            assert!(read(&fields(wrong)).is_err(), "{wrong:?}");
        }
    }

    #[test]
    fn what_is_not_offered_is_not_kept() {
        let sent = [("pain", "no"), ("flight", "<b>"), ("club", "wedge")];
        let answers = read(&fields(&sent)).unwrap();
        assert_eq!((&*answers.flight, &*answers.club), ("", "wedge"));
    }

    #[test]
    fn pain_joins_what_is_on_record_and_ends_a_clearance() {
        let at = |second| Timestamp::from_second(second).unwrap();
        let pain = |area, strength| Pain { area, strength };
        let before = Screening {
            pains: vec![pain(BodyArea::Hip, 2), pain(BodyArea::Knee, 7)],
            cleared: Some(lessonwright_model::Cleared {
                by: "Dr. Roe".into(),
                on: Date::constant(2026, 11, 1),
            }),
            ..Screening::nothing(at(0))
        };
        let facts = PlayerFacts {
            screening: Some(before.clone()),
            ..PlayerFacts::default()
        };
        let answers = |pains| Answers {
            pains,
            pain_answered: true,
            flight: "slice".into(),
            ..Answers::default()
        };
        let after = facts_with(&facts, &answers(vec![pain(BodyArea::Knee, 3)]), at(9));
        let screening = after.screening.unwrap();
        assert_eq!(
            screening.pains,
            [pain(BodyArea::Hip, 2), pain(BodyArea::Knee, 3)]
        );
        assert_eq!((screening.cleared, screening.asked_at), (None, at(9)));
        assert_eq!(after.usual_flight.as_deref(), Some("slice"));
        let nothing = facts_with(&facts, &answers(vec![]), at(9));
        assert_eq!(
            nothing.screening,
            Some(before),
            "no pain takes nothing back"
        );
    }

    #[test]
    fn what_goes_on_record_is_read_back() {
        let answers = read(&fields(&[("pain", "no"), ("feel", "\"late\"")])).unwrap();
        let on = Date::constant(2026, 11, 26);
        let kept = |form| record(&answers, form, on, Timestamp::UNIX_EPOCH).unwrap();
        assert_eq!(
            Answers::on_record(&kept("a").answers),
            Some(answers.clone())
        );
        assert_eq!(kept("a").sha256, kept("a").sha256);
        assert_ne!(kept("a").sha256, kept("b").sha256);
    }
}
