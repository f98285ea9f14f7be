//! The page of the professional's own drills: take a page in, write or change one, leave one out.

use super::{OwnChange, in_use, kept, page_or_refused, waiting};
use crate::drills::drill_address;
use crate::error::PageError;
use crate::language::say;
use crate::routes::{Fields, Studio};
use askama::Template;
use axum::Router;
use axum::extract::{DefaultBodyLimit, Form, Multipart, Query, State};
use axum::response::Response;
use axum::routing::post;
use lessonwright_coaching::{Care, DrillBook};
use lessonwright_language::filters::told;
use lessonwright_language::{Text, filters, t};
use lessonwright_model::Hand;

/// The page.
pub const ADDRESS: &str = "/studio/drills";
/// Where one is written or changed.
pub const EDIT_ADDRESS: &str = "/studio/drills/edit";
/// Where one is left out.
pub const OUT_ADDRESS: &str = "/studio/drills/leave-out";
/// Where a form's page goes.
const TAKE_ADDRESS: &str = "/studio/drills/take-in";

/// Largest form, bytes: a page and two pictures, of which each may be as large as the book allows.
const MOST_BYTES: usize = 8 << 20;

#[derive(Template)]
#[template(path = "own/drills.html")]
struct OwnDrillsPage {
    own: Vec<OwnDrill>,
    /// Standard pages to begin from: key and title.
    standard: Vec<(String, String)>,
    kept: bool,
    waiting: usize,
    why: Option<Text>,
    take: &'static str,
    edit: &'static str,
    out: &'static str,
}

struct OwnDrill {
    key: String,
    title: String,
    changes: String,
    address: String,
    /// Stands in place of a standard page.
    instead: bool,
}

#[derive(Template)]
#[template(path = "own/drill_edit.html")]
struct EditPage {
    key: String,
    text: String,
    why: Option<Text>,
    take: &'static str,
    list: &'static str,
    /// It has pictures that stay unless others are chosen.
    has_pictures: bool,
}

pub async fn page(
    State(studio): State<Studio>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    let page = made(&studio, None, fields.contains_key("kept")).await?;
    page_or_refused(&page, None)
}

/// A page of the book to change; an empty form where no key is given.
pub async fn edit(
    State(studio): State<Studio>,
    Query(fields): Query<Fields>,
) -> Result<Response, PageError> {
    let key = fields.get("key").map_or("", |key| key.trim());
    let prescribing = &studio.state.prescribing;
    let text = match key {
        "" => String::new(),
        key => {
            let page = prescribing.book.page(key);
            let missing = || PageError::Missing(t("error-none-drill").with("key", key.to_string()));
            page.ok_or_else(missing)?.text().to_owned()
        }
    };
    let page = EditPage::of(&studio, key.to_owned(), text, None);
    page_or_refused(&page, None)
}

pub fn taking_in() -> Router<Studio> {
    let limit = DefaultBodyLimit::max(MOST_BYTES);
    Router::new().route(TAKE_ADDRESS, post(take_in).layer(limit))
}

/// Keeps a page that was written, or that came as a file with its pictures.
async fn take_in(State(studio): State<Studio>, form: Multipart) -> Result<Response, PageError> {
    let filled = Filled::read(form).await;
    let (key, text) = (filled.key.clone(), filled.text.clone());
    let made = match filled.change() {
        Ok(change) => studio
            .state
            .own
            .make(change)
            .await
            .map_err(|why| told(&why)),
        Err(why) => Err(why),
    };
    match made {
        Ok(()) => Ok(kept(ADDRESS, "drill")),
        Err(why) => {
            let page = EditPage::of(&studio, key, text, Some(why.clone()));
            page_or_refused(&page, Some(&why))
        }
    }
}

pub async fn leave_out(
    State(studio): State<Studio>,
    Form(fields): Form<Fields>,
) -> Result<Response, PageError> {
    let key = fields.get("key").cloned().unwrap_or_default();
    match studio.state.own.make(OwnChange::DrillOut(key)).await {
        Ok(()) => Ok(kept(ADDRESS, "drill")),
        Err(why) => {
            let why = told(&why);
            page_or_refused(&made(&studio, Some(why.clone()), false).await?, Some(&why))
        }
    }
}

async fn made(studio: &Studio, why: Option<Text>, kept: bool) -> Result<OwnDrillsPage, PageError> {
    let trade = in_use(&studio.state)?;
    let book = &studio.state.prescribing.said().book;
    let standard = DrillBook::standard();
    let worded = |page: &lessonwright_coaching::DrillPage| page.worded(Hand::Right, &Care::Full);
    let own = trade.own_drills.keys().filter_map(|key| {
        let drill = worded(book.page(key)?);
        Some(OwnDrill {
            title: drill.title,
            changes: drill.changes,
            address: drill_address(key),
            instead: standard.page(key).is_some(),
            key: key.clone(),
        })
    });
    let own = own.collect();
    let standard = standard.in_language(say().language);
    Ok(OwnDrillsPage {
        own,
        standard: standard
            .pages()
            .map(|page| (page.key().to_owned(), worded(page).title))
            .collect(),
        kept,
        waiting: waiting(&studio.store).await?.len(),
        why,
        take: TAKE_ADDRESS,
        edit: EDIT_ADDRESS,
        out: OUT_ADDRESS,
    })
}

impl EditPage {
    fn of(studio: &Studio, key: String, text: String, why: Option<Text>) -> EditPage {
        EditPage {
            has_pictures: studio.state.prescribing.figures.of(&key).is_some(),
            key,
            text,
            why,
            take: TAKE_ADDRESS,
            list: ADDRESS,
        }
    }
}

/// What the form brought.
#[derive(Default)]
struct Filled {
    key: String,
    text: String,
    stills: Option<Vec<u8>>,
    moving: Option<Vec<u8>>,
    /// Why it could not be read.
    broken: Option<Text>,
}

impl Filled {
    async fn read(mut form: Multipart) -> Filled {
        let mut filled = Filled::default();
        loop {
            let field = match form.next_field().await {
                Ok(Some(field)) => field,
                Ok(None) => return filled,
                Err(error) => {
                    filled.broken = Some(cut_off(&error.body_text()));
                    return filled;
                }
            };
            let (name, file) = (
                field.name().unwrap_or_default().to_owned(),
                field.file_name().unwrap_or_default().to_owned(),
            );
            match field.bytes().await {
                Err(error) => filled.broken = Some(cut_off(&error.body_text())),
                Ok(bytes) => filled.put(&name, &file, bytes.to_vec()),
            }
        }
    }

    fn put(&mut self, name: &str, file: &str, bytes: Vec<u8>) {
        let text = || String::from_utf8_lossy(&bytes).replace("\r\n", "\n");
        match name {
            "key" if !bytes.is_empty() => self.key = text().trim().to_owned(),
            "text" if !bytes.is_empty() => self.text = text(),
            // A page that comes as a file is called as its file is.
            "page" if !bytes.is_empty() => {
                self.text = text();
                if self.key.is_empty() {
                    self.key = file.strip_suffix(".md").unwrap_or(file).to_owned();
                }
            }
            "stills" if !bytes.is_empty() => self.stills = Some(bytes),
            "moving" if !bytes.is_empty() => self.moving = Some(bytes),
            _ => {}
        }
    }

    fn change(self) -> Result<OwnChange, Text> {
        if let Some(broken) = self.broken {
            return Err(broken);
        }
        if self.key.is_empty() {
            return Err(t("own-drill-no-key"));
        }
        if self.text.trim().is_empty() {
            return Err(t("own-drill-no-page"));
        }
        Ok(OwnChange::Drill {
            key: self.key,
            text: self.text,
            stills: self.stills,
            moving: self.moving,
        })
    }
}

fn cut_off(why: &str) -> Text {
    t("own-drill-cut-off")
        .with("why", why)
        .tag("en", "span lang=\"en\"")
}
