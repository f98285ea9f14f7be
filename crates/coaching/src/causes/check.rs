//! What a cause table may not say: found on loading, each with where, what, and what to do.

use super::{BodyFact, CauseTable, ClubFact, FORMAT, Named};
use crate::data_error::{self, DataError};
use crate::wording::{Placeholders, check_template};
use std::collections::BTreeSet;

/// Refuses a file of another format before its parts are read, so that the message names the reason.
pub(super) fn format(file: &str, text: &str) -> Result<(), DataError> {
    #[derive(serde::Deserialize)]
    struct Format {
        format: Option<u32>,
    }
    let Format { format } = data_error::read(file, text)?;
    let problem = match format {
        Some(FORMAT) => return Ok(()),
        Some(other) => format!(
            "this file is of format {other}, and this version reads format {FORMAT}: take `lessonwright \
             causes print` and carry your changes over"
        ),
        None => format!("say format = {FORMAT} at the top of the file"),
    };
    Err(DataError::content(file, "format", problem))
}

/// Where, and what with what to do.
type Fault = (String, String);

pub(super) fn table(table: &CauseTable) -> Result<(), Fault> {
    if table.edition.trim().is_empty() {
        let problem = "say which edition this is (\"Imke's, autumn 2026\")";
        return Err(("edition".into(), problem.into()));
    }
    keys(table)?;
    for named in table.limits.iter().chain(&table.goals) {
        let fault = |problem| (format!("limit or goal {}", named.key), problem);
        check_template(&named.says, Placeholders::Sides).map_err(fault)?;
    }
    for one in &table.bodies {
        body(table, one).map_err(|problem| (format!("body {}", one.key), problem))?;
    }
    for one in &table.clubs {
        club(table, one).map_err(|problem| (format!("club {}", one.key), problem))?;
    }
    Ok(())
}

fn keys(table: &CauseTable) -> Result<(), Fault> {
    let named = |list: &[Named]| list.iter().map(|one| one.key.clone()).collect::<Vec<_>>();
    let facts = table.bodies.iter().map(|b| b.key.clone());
    let clubs = table.clubs.iter().map(|c| c.key.clone());
    for keys in [
        facts.chain(clubs).collect(),
        named(&table.limits),
        named(&table.goals),
    ] {
        let mut seen = BTreeSet::new();
        for key in keys {
            if key.trim().is_empty() {
                return Err(("key".into(), "a key is empty: give it a name".into()));
            }
            if !seen.insert(key.clone()) {
                return Err((key, "this key is used twice: rename one".into()));
            }
        }
    }
    Ok(())
}

fn body(table: &CauseTable, body: &BodyFact) -> Result<(), String> {
    for text in [&body.short, &body.title, &body.seen, &body.would_change_it] {
        check_template(text, Placeholders::Sides)?;
    }
    if let Some(shown) = &body.shown {
        check_template(&shown.says, Placeholders::SidesAndNumbers)?;
        check_template(&shown.trade, Placeholders::SidesAndNumbers)?;
    }
    links(table, body)?;
    limits(table, body)?;
    leads(table, body)
}

fn links(table: &CauseTable, body: &BodyFact) -> Result<(), String> {
    if body.clubs.is_empty() {
        return Err("say what it does to the club: add a [[body.club]]".into());
    }
    let mut clubs = BTreeSet::new();
    for link in &body.clubs {
        if table.club(&link.club).is_none() {
            return Err(format!(
                "there is no club fact \"{}\": correct the key or add a [[club]]",
                link.club
            ));
        }
        if !clubs.insert(&link.club) {
            return Err(format!("links to {} twice: keep one", link.club));
        }
        if link.source.trim().is_empty() {
            return Err(format!(
                "the link to {} has no source: say whose it is (\"own experience\" will do)",
                link.club
            ));
        }
    }
    Ok(())
}

fn limits(table: &CauseTable, body: &BodyFact) -> Result<(), String> {
    for key in body.lowered_by.iter().chain(&body.excluded_by) {
        if !table.limits.iter().any(|limit| limit.key == *key) {
            return Err(format!(
                "there is no limit \"{key}\": correct the key or add a [[limit]]"
            ));
        }
    }
    match body
        .lowered_by
        .iter()
        .find(|key| body.excluded_by.contains(key))
    {
        Some(key) => Err(format!("{key} both lowers and excludes it: keep one")),
        None => Ok(()),
    }
}

fn leads(table: &CauseTable, body: &BodyFact) -> Result<(), String> {
    for key in &body.leads_to {
        let Some(next) = table.body(key) else {
            return Err(format!(
                "leads to \"{key}\", and there is no such body fact: correct the key or take it out"
            ));
        };
        if next.moment < body.moment {
            return Err(format!(
                "leads to {key}, which is earlier in the swing: take it out or move one of them"
            ));
        }
    }
    if comes_back_to(table, &body.key, &body.key, table.bodies.len()) {
        return Err("leads in a circle back to itself: take one leads_to out".into());
    }
    Ok(())
}

/// Like [`CauseTable::leads_to`], but sure to end on a table that is not yet checked.
fn comes_back_to(table: &CauseTable, from: &str, to: &str, steps: usize) -> bool {
    steps > 0
        && table.body(from).is_some_and(|body| {
            body.leads_to
                .iter()
                .any(|next| next == to || comes_back_to(table, next, to, steps - 1))
        })
}

fn club(table: &CauseTable, club: &ClubFact) -> Result<(), String> {
    let own = [&club.short, &club.says];
    for text in own
        .into_iter()
        .chain(club.flights.iter().map(|to| &to.says))
    {
        check_template(text, Placeholders::Sides)?;
    }
    for goal in &club.serves {
        if !table.goals.iter().any(|known| known.key == *goal) {
            return Err(format!(
                "serves \"{goal}\", and there is no such goal: correct the key or add a [[goal]]"
            ));
        }
    }
    let mut flights = BTreeSet::new();
    match club.flights.iter().find(|to| !flights.insert(to.flight)) {
        Some(twice) => Err(format!("gives a {} twice: keep one", twice.flight.plain())),
        None => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{CauseTable, STANDARD};
    use super::FORMAT;

    #[test]
    fn a_bad_table_says_what_where_and_what_to_do() {
        let with = |from: &str, to: &str| {
            assert!(STANDARD.contains(from), "{from}");
            STANDARD.replacen(from, to, 1)
        };
        let cases = [
            (
                with(
                    "key = \"wrist_cupped\"\nmoment = \"top\"",
                    "key = \"wrist_cupped\"\nmoment = \"address\"",
                )
                .replacen(
                    "leads_to = [\"face_not_closing\"]\ndrills = [\"ruler",
                    "leads_to = [\"grip_weak\"]\ndrills = [\"ruler",
                    1,
                ),
                "circle",
                "take one leads_to out",
            ),
            (
                with("\"elbow_behind\", \"chest", "\"nobody\", \"chest"),
                "nobody",
                "correct the key",
            ),
            (
                with(
                    "leads_to = []\ndrills = [\"hold",
                    "leads_to = [\"elbow_behind\"]\ndrills = [\"hold",
                ),
                "earlier",
                "take it out",
            ),
            (
                with("key = \"strike_varies\"", "key = \"varies\""),
                "strike_varies",
                "add a [[club]]",
            ),
            (
                with("key = \"loft_added\"", "key = \"path_in_to_out\""),
                "twice",
                "rename",
            ),
            (with("moved {value}", "moved {valeu}"), "valeu", "{value}"),
            (with("grade = \"D\"", "grade = \"E\""), "`E`", "choose from"),
            (
                with("how = \"often\"", "how = \"always\""),
                "always",
                "sometimes",
            ),
            (
                with("lowered_by = [\"balance\"]", "lowered_by = [\"balence\"]"),
                "balence",
                "[[limit]]",
            ),
            (
                with("serves = [\"direction\"]", "serves = [\"fame\"]"),
                "fame",
                "[[goal]]",
            ),
            (
                with("format = 2", "format = 3"),
                "format 3",
                "carry your changes over",
            ),
            (with("format = 2\n", ""), "format", "at the top"),
            (
                with("short = \"weight on the toes\"", "short = \"\""),
                "weight_on_toes",
                "empty",
            ),
            (
                with("short = \"weight on the toes\"\n", ""),
                "short",
                "missing",
            ),
        ];
        assert_eq!(FORMAT, 2);
        for (text, says, to_do) in cases {
            let error = CauseTable::parse("own.toml", &text)
                .unwrap_err()
                .to_string();
            for word in ["own.toml", says, to_do] {
                assert!(error.contains(word), "{word}: {error}");
            }
        }
    }

    #[test]
    fn a_key_that_is_not_known_is_named_with_those_that_are() {
        let table = CauseTable::standard();
        let given = ["grip_weak".to_string(), "grip".to_string()];
        let error = table.check_keys(&given, [], []).unwrap_err();
        assert!(
            error.contains("\"grip\"") && error.contains("grip_strong"),
            "{error}"
        );
        let limits = ["balance".to_string()];
        assert_eq!(table.check_keys(&given[..1], &limits, []), Ok(()));
    }
}
