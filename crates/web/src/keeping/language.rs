//! In which language the studio's pages are: chosen on the page "Studio".

use super::{Here, STUDIO_ADDRESS};
use crate::error::PageError;
use crate::routes::Fields;
use axum::extract::{Form, State};
use axum::response::Redirect;
use lessonwright_language::{Language, t};

/// Where the choice is posted.
pub const LANGUAGE_ADDRESS: &str = "/studio/language";

/// A language that may be chosen.
pub struct Offer {
    pub tag: &'static str,
    pub name: &'static str,
    pub chosen: bool,
}

pub fn offers(now: Language) -> Vec<Offer> {
    Language::ALL
        .into_iter()
        .map(|language| Offer {
            tag: language.tag(),
            name: language.own_name(),
            chosen: language == now,
        })
        .collect()
}

/// Remembers the choice, and speaks it from now on.
pub async fn choose(
    State(here): State<Here>,
    Form(fields): Form<Fields>,
) -> Result<Redirect, PageError> {
    let tag = fields.get("language").map_or("", String::as_str);
    let language = Language::of_tag(tag)
        .ok_or_else(|| PageError::Missing(t("error-none-language").with("key", tag.to_string())))?;
    here.studio.store.choose_studio_language(language).await?;
    here.studio.state.spoken.choose(language);
    Ok(Redirect::to(&format!("{STUDIO_ADDRESS}#language")))
}
