//! The page of targets: every band with where it comes from, and forms for the professional's own numbers.

use super::shown::Preview;
use super::{Come, InUse, OwnChange, in_use, kept, page_or_refused, tried, waiting};
use crate::error::PageError;
use crate::language::say;
use crate::routes::{Fields, Studio};
use crate::typed::decimal;
use askama::Template;
use axum::extract::{Form, Query, State};
use axum::response::Response;
use lessonwright_coaching::{Basis, Target, Targets};
use lessonwright_language::{Say, Text, filters, t, words};
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
    basis: Text,
    source: String,
    doubt: String,
    own: bool,
    /// The built-in band that an own one stands in place of.
    built_in: Option<Text>,
    unit: Text,
    form: Typed,
    open: bool,
    why: Option<Text>,
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
    come: Come,
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
        come: Come::default(),
    };
    let asked = said("do");
    let change = match asked.as_str() {
        "back" => Ok(OwnChange::TargetBack(now.clone())),
        _ => typed.change(now),
    };
    let Some(come) = tried(&*studio.state.own, change, asked == "look").await else {
        return Ok(kept(ADDRESS, "target"));
    };
    let why = come.why.clone();
    answered.come = come;
    page_or_refused(&made(&studio, Some(answered), false).await?, why.as_ref())
}

impl Typed {
    fn change(&self, now: &Target) -> Result<OwnChange, Text> {
        if self.reason.is_empty() {
            return Err(t("own-target-say-why"));
        }
        Ok(OwnChange::Target {
            now: now.clone(),
            low: number(&self.low)?,
            high: number(&self.high)?,
            reason: self.reason.clone(),
        })
    }
}

fn number(text: &str) -> Result<f64, Text> {
    decimal(text).ok_or_else(|| t("own-target-no-number").with("text", text))
}

async fn made(
    studio: &Studio,
    answered: Option<Answered>,
    kept: bool,
) -> Result<TargetsPage, PageError> {
    let trade = in_use(&studio.state)?;
    let standard = Targets::standard();
    let say = say();
    let targets = trade.targets.clone().in_language(say.language);
    let mut rows: Vec<Row> = targets
        .iter()
        .map(|target| Row::of(target, &trade, &standard, say))
        .collect();
    // As the measures are listed everywhere: by name, then in the order of the swing.
    rows.sort_by(|a, b| a.title.cmp(&b.title));
    if let Some(answered) = answered
        && let Some(row) = rows.iter_mut().find(|row| row.key == answered.key)
    {
        row.open = true;
        row.form = answered.typed;
        row.why = answered.come.why;
        row.preview = answered.come.preview;
    }
    Ok(TargetsPage {
        own: rows.iter().filter(|row| row.own).count(),
        rows,
        kept,
        waiting: waiting(&studio.store).await?.len(),
    })
}

impl Row {
    fn of(target: &Target, trade: &InUse, standard: &Targets, say: Say) -> Row {
        let own = trade.own_targets.iter().any(|own| own.same_place(target));
        let built_in = standard
            .iter()
            .find(|other| own && other.same_place(target));
        Row {
            key: key_of(target),
            title: title(target, say),
            band: target.words(),
            basis: basis_words(target.basis),
            source: target.source.clone(),
            doubt: target.doubt.clone(),
            own,
            built_in: built_in.map(Target::words),
            unit: unit_words(target.unit),
            form: Typed {
                low: say.figure(&target.low.to_string()),
                high: say.figure(&target.high.to_string()),
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

/// "Pelvis shift: lead arm level, coming down, against top".
fn title(target: &Target, say: Say) -> String {
    let moment = words::moment(target.moment);
    let text = match target.against {
        None => t("own-target-title"),
        Some(against) => t("own-target-title-against").with("against", words::moment(against)),
    };
    let text = text
        .with("measure", words::measure(target.measure))
        .with("moment", moment);
    let view = target.view.map(words::view);
    let said = say.text(&Text::joined([text].into_iter().chain(view), ", "));
    let mut letters = said.chars();
    let first: String = letters
        .next()
        .into_iter()
        .flat_map(char::to_uppercase)
        .collect();
    first + letters.as_str()
}

fn basis_words(basis: Basis) -> Text {
    t(match basis {
        Basis::OwnAddress => "own-basis-own-address",
        Basis::CommonPractice => "own-basis-common-practice",
        Basis::Derived => "own-basis-derived",
        Basis::Published => "own-basis-published",
        Basis::Professional => "own-basis-professional",
        Basis::OwnSwing => "own-basis-own-swing",
        Basis::ModelSwings => "own-basis-models",
    })
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

fn unit_words(unit: Unit) -> Text {
    match unit {
        Unit::Centimetre => Text::plain("cm"),
        Unit::Degree => t("own-target-degrees"),
        Unit::Second => t("own-target-seconds"),
        Unit::One => t("own-target-ratio"),
        Unit::Percent => Text::plain("%"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_target_has_a_key_and_a_title_of_its_own() {
        let targets = Targets::standard();
        let mut keys: Vec<String> = targets.iter().map(key_of).collect();
        keys.sort();
        keys.dedup();
        assert_eq!(keys.len(), targets.iter().count());
    }
}
