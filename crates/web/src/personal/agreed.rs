//! What a player agrees to at the door: to be filmed, taught and sent lessons, each apart; and to be told by e-mail. A minor's
//! guardian agrees with the professional, not by a link that a child holds.

use super::door::Visit;
use crate::error::PageError;
use crate::routes::{Fields, Studio};
use crate::wording::today;
use lessonwright_language::{Text, t};
use lessonwright_store::{NewConsent, OF_AGE_YEARS, Purpose};

/// One thing to agree to.
pub struct Agreed {
    pub key: &'static str,
    pub says: Text,
    pub in_force: bool,
}

/// What a player can agree to here. What is shown to others is asked for face to face.
const ASKED: [(Purpose, &str); 3] = [
    (Purpose::Filming, "personal-filming"),
    (Purpose::Teaching, "personal-teaching"),
    (Purpose::Sending, "personal-sending"),
];

/// True where a guardian agrees instead.
pub fn is_minor(visit: &Visit) -> bool {
    let age = visit.player.facts.age_years;
    age.is_some_and(|age| age < OF_AGE_YEARS)
}

pub async fn agreed(studio: &Studio, visit: &Visit) -> Result<Vec<Agreed>, PageError> {
    let consents = studio.store.consents_of(visit.player.id).await?;
    let one = |(purpose, says): (Purpose, &'static str)| Agreed {
        key: purpose.key(),
        says: t(says),
        in_force: consents.in_force(purpose).is_some(),
    };
    Ok(ASKED.map(one).into())
}

/// Notes what a form says: `purpose`, and `what` = "agree" or "withdraw".
///
/// # Errors
/// If a minor would agree alone, or the form is not ours.
pub async fn note(
    studio: &Studio,
    visit: &Visit,
    fields: &Fields,
) -> Result<Result<(), Text>, PageError> {
    let said = |name: &str| fields.get(name).map_or("", String::as_str);
    let purpose = Purpose::of_key(said("purpose"));
    let Some(purpose) = purpose.filter(|one| ASKED.iter().any(|(known, _)| known == one)) else {
        return Ok(Err(t("personal-choose-what")));
    };
    let on = today(&studio.state);
    match said("what") {
        // Whoever holds the link may take a consent back: nothing more is done until it is given again.
        "withdraw" => {
            studio
                .store
                .withdraw_consent(visit.player.id, purpose, on)
                .await?
        }
        "agree" if is_minor(visit) => {
            return Ok(Err(t("personal-guardian-agrees")));
        }
        "agree" => {
            let consent = NewConsent {
                purpose,
                given_by: visit.player.facts.name.clone(),
                by_guardian: false,
                given_on: on,
            };
            studio
                .store
                .record_consent(visit.player.id, &consent)
                .await?;
        }
        _ => return Ok(Err(t("personal-choose-button"))),
    }
    Ok(Ok(()))
}

/// Notes where the player wants to be told, or, empty, that the player does not.
///
/// # Errors
/// If the address can't be one, or a minor asks.
pub async fn note_mail(
    studio: &Studio,
    visit: &Visit,
    fields: &Fields,
) -> Result<Result<(), Text>, PageError> {
    let address = fields.get("address").map_or("", |text| text.trim());
    if address.is_empty() || fields.contains_key("stop") {
        studio
            .store
            .keep_mail_address(visit.player.id, None)
            .await?;
        return Ok(Ok(()));
    }
    if is_minor(visit) {
        return Ok(Err(t("personal-guardian-told")));
    }
    if !fields.contains_key("agree") {
        return Ok(Err(t("personal-tick-mail")));
    }
    if !is_address(address) {
        return Ok(Err(t("personal-no-address")));
    }
    let agreed = (address, today(&studio.state));
    studio
        .store
        .keep_mail_address(visit.player.id, Some(agreed))
        .await?;
    Ok(Ok(()))
}

/// Enough to tell a slip; the mail server knows the rest. Nothing that could end a line of a mail's head.
fn is_address(text: &str) -> bool {
    let plain = |c: char| c.is_ascii_graphic() && !"<>()[],;:\\\"".contains(c);
    let (name, host) = text.split_once('@').unwrap_or_default();
    text.len() <= 254
        && text.chars().all(plain)
        && !name.is_empty()
        && !host.contains('@')
        && host.split('.').count() >= 2
        && host.split('.').all(|part| !part.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_in_an_address_are_told() {
        for (text, is) in [
            ("mara@mail.example", true),
            ("mara.lind+golf@sub.mail.example", true),
            ("mara@mail", false),
            ("mara", false),
            ("@mail.example", false),
            ("mara@mail.example.", false),
            ("mara@@mail.example", false),
            ("a@b.example, c@d.example", false),
            ("mara@mail.example\nBcc: x@y.example", false),
            ("Mara <mara@mail.example>", false),
        ] {
            assert_eq!(is_address(text), is, "{text:?}");
        }
    }
}
