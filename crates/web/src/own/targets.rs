//! The page of targets: every band with where it comes from, and forms for the professional's own numbers.

use super::shown::Preview;
use super::{InUse, OwnChange, in_use, kept, page_or_refused, waiting};
use crate::error::PageError;
use crate::routes::{Fields, Studio};
use askama::Template;
use axum::extract::{Form, Query, State};
use axum::response::Response;
use lessonwright_coaching::{Target, Targets};
use lessonwright_language::{Text, filters, t};
use lessonwright_model::Unit;

/// The page.
pub const ADDRESS: &str = "/studio/targets";

#[derive(Template)]
#[template(path = "own/targets.html")]
struct TargetsPage {
    rows: Vec<Row>,
    own: usize,
    /// What was kept.
    kept: bool,
    /// Lessons that wait, for which a change may still count.
    waiting: usize,
}

/// One band.
struct Row {
    key: String,
    title: String,
    band: Text,
    basis: &'static str,
    source: String,
    doubt: String,
    own: bool,
    /// The built-in band that an own one stands in place of.
    built_in: Option<Text>,
    unit: &'static str,
    form: Typed,
    open: bool,
    why: Option<String>,
    preview: Option<Preview>,
}

/// As it was typed, or as it is.
#[derive(Clone, Default)]
struct Typed {
    low: String,
    high: String,
    reason: String,
}

/// What one row's form came to.
struct Answered {
    key: String,
    typed: Typed,
    why: Option<String>,
    preview: Option<Preview>,
}

pub async fn page(
    State(studio): State<Studio>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    let page = made(&studio, None, fields.contains_key("kept")).await?;
    page_or_refused(&page, None)
}

/// Shows what a change makes of the last swings, keeps it, or takes it back.
pub async fn change(
    State(studio): State<Studio>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let said = |name: &str| fields.get(name).map_or("", |text| text.trim()).to_owned();
    let trade = in_use(&studio.state)?;
    let key = said("target");
    let now = trade.targets.iter().find(|target| key_of(target) == key);
    let now =
        now.ok_or_else(|| PageError::Missing(t("own-none-target").with("key", key.to_string())))?;
    let typed = Typed {
        low: said("low"),
        high: said("high"),
        reason: said("reason"),
    };
    let mut answered = Answered {
        key,
        typed: typed.clone(),
        why: None,
        preview: None,
    };
    let asked = said("do");
    let change = match asked.as_str() {
        "back" => Ok(OwnChange::TargetBack(now.clone())),
        _ => typed.change(now),
    };
    let own = &studio.state.own;
    match change {
        Err(why) => answered.why = Some(why),
        Ok(change) if asked == "look" => match own.would_change(change).await {
            Ok(would) => answered.preview = Some(Preview::of(&would)),
            Err(why) => answered.why = Some(why),
        },
        Ok(change) => match own.make(change).await {
            Ok(()) => return Ok(kept(ADDRESS, "target")),
            Err(why) => answered.why = Some(why),
        },
    }
    let why = answered.why.clone();
    page_or_refused(&made(&studio, Some(answered), false).await?, why.as_ref())
}

impl Typed {
    fn change(&self, now: &Target) -> Result<OwnChange, String> {
        if self.reason.is_empty() {
            return Err("Say why: every finding shows where its band comes from.".into());
        }
        Ok(OwnChange::Target {
            now: now.clone(),
            low: number(&self.low)?,
            high: number(&self.high)?,
            reason: self.reason.clone(),
        })
    }
}

/// A number as people type it, with a point or a comma.
fn number(text: &str) -> Result<f64, String> {
    let number = text.replace(',', ".").replace('−', "-").parse::<f64>();
    let number = number.ok().filter(|number| number.is_finite());
    number.ok_or_else(|| format!("\"{text}\" is no number: type one like 2.5."))
}

async fn made(
    studio: &Studio,
    answered: Option<Answered>,
    kept: bool,
) -> Result<TargetsPage, PageError> {
    let trade = in_use(&studio.state)?;
    let standard = Targets::standard();
    let mut rows: Vec<Row> = trade
        .targets
        .iter()
        .map(|target| Row::of(target, &trade, &standard))
        .collect();
    // As the measures are listed everywhere: by name, then in the order of the swing.
    rows.sort_by(|a, b| a.title.cmp(&b.title));
    if let Some(answered) = answered
        && let Some(row) = rows.iter_mut().find(|row| row.key == answered.key)
    {
        row.open = true;
        row.form = answered.typed;
        row.why = answered.why;
        row.preview = answered.preview;
    }
    Ok(TargetsPage {
        own: rows.iter().filter(|row| row.own).count(),
        rows,
        kept,
        waiting: waiting(&studio.store).await?.len(),
    })
}

impl Row {
    fn of(target: &Target, trade: &InUse, standard: &Targets) -> Row {
        let own = trade.own_targets.iter().any(|own| own.same_place(target));
        let built_in = standard
            .iter()
            .find(|other| own && other.same_place(target));
        Row {
            key: key_of(target),
            title: title(target),
            band: target.words(),
            basis: target.basis.plain(),
            source: target.source.clone(),
            doubt: target.doubt.clone(),
            own,
            built_in: built_in.map(Target::words),
            unit: unit_words(target.unit),
            form: Typed {
                low: target.low.to_string(),
                high: target.high.to_string(),
                reason: if own {
                    target.source.clone()
                } else {
                    String::new()
                },
            },
            open: false,
            why: None,
            preview: None,
        }
    }
}

/// "Pelvis shift, lead arm level, coming down, against top".
fn title(target: &Target) -> String {
    let mut letters = target.measure.plain().chars();
    let first: String = letters
        .next()
        .into_iter()
        .flat_map(char::to_uppercase)
        .collect();
    let against = target
        .against
        .map(|against| format!(", against {}", against.plain()));
    let view = target.view.map(|view| format!(", {view}"));
    format!(
        "{first}{}: {}{}{}",
        letters.as_str(),
        target.moment.plain(),
        against.unwrap_or_default(),
        view.unwrap_or_default()
    )
}

/// Tells a target from the others, in a form.
fn key_of(target: &Target) -> String {
    let against = target.against.map_or("", |against| against.plain());
    format!(
        "{}|{}|{against}",
        target.measure.plain(),
        target.moment.plain()
    )
}

fn unit_words(unit: Unit) -> &'static str {
    match unit {
        Unit::Centimetre => "cm",
        Unit::Degree => "degrees",
        Unit::Second => "seconds",
        Unit::One => "ratio",
        Unit::Percent => "%",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_with_a_point_or_a_comma_and_nothing_else_is_one() {
        for (text, read) in [("2.5", 2.5), ("2,5", 2.5), ("−3", -3.0), ("-3", -3.0)] {
            assert_eq!(number(text), Ok(read), "{text}");
        }
        for text in ["", "two", "nan", "inf", "2.5 cm"] {
            assert!(number(text).is_err(), "{text}");
        }
    }

    #[test]
    fn every_target_has_a_key_and_a_title_of_its_own() {
        let targets = Targets::standard();
        let mut keys: Vec<String> = targets.iter().map(key_of).collect();
        keys.sort();
        keys.dedup();
        assert_eq!(keys.len(), targets.iter().count());
    }
}
