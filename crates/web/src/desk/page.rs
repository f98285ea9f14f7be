//! The desk as a page, in the order in which a lesson is made.

use super::drafts::Draft;
use super::forms::{NOTHING, PROPOSED, picture_names};
use super::routes::Addresses;
use crate::bench::{Making, bench_address, frame_address, strip_address};
use crate::error::PageError;
use crate::language::say;
use crate::lesson_files::{FileLink, file_links};
use crate::pages::{day, minute, moment_key, view_key};
use crate::practice;
use crate::routes::{Studio, player_address, swing_address};
use crate::script_words::{DESK, STRIP, script_words};
use crate::settings::settings_address;
use askama::Template;
use lessonwright_coaching::Care;
use lessonwright_language::filters::told;
use lessonwright_language::{Text, filters, t, words};
use lessonwright_model::{
    Choices, DoseChoice, Drill, Moment, MomentName, PriorityChoice, SwingAnalysis, View,
};
use lessonwright_store::{LessonSummary, Player, StoredChoices, SwingId};

/// The lesson desk.
#[derive(Template)]
#[template(path = "desk.html")]
pub struct DeskPage {
    academy: String,
    player: String,
    player_address: String,
    swing: String,
    bench: String,
    day: Text,
    to: Addresses,
    offers: Vec<Offer>,
    why: String,
    chain: Vec<String>,
    drills: Vec<Drill>,
    dose_half: bool,
    /// Why there is half of it anyhow.
    dose_lowered: Option<String>,
    /// What stands in the place of a drill.
    notice: Option<String>,
    views: Vec<Pictures>,
    pictures_made: bool,
    note: String,
    voice: Option<VoiceBox>,
    /// For the recorder: JSON.
    speak: String,
    /// For the scripts: JSON.
    script_words: String,
    draft: DraftBox,
}

/// One thing that could be worked on, or nothing.
struct Offer {
    key: String,
    title: Text,
    share: Option<String>,
    is_proposed: bool,
    chosen: bool,
}

/// Of one view, what the page can show.
struct Pictures {
    view: View,
    offers: Vec<PictureOffer>,
}

struct PictureOffer {
    title: Text,
    show: String,
    words: String,
    chosen: bool,
    caption: String,
    source: String,
}

struct VoiceBox {
    /// Whether the film shows what was looked at.
    looked: bool,
}

enum DraftBox {
    Ready(Box<ReadyBox>),
    Under,
    Failed(Text),
}

struct ReadyBox {
    lesson: LessonSummary,
    drafted: Text,
    approved: Option<Text>,
    files: Vec<FileLink>,
    film: Option<String>,
    /// Why it may not be approved, and where to ask.
    refused: Option<(Text, String)>,
}

/// The pictures of a page for which none was chosen.
pub fn is_usual(moment: &Moment) -> bool {
    use MomentName::{Address, Impact, LeadArmLevelDown, Top};
    [Address, Top, LeadArmLevelDown, Impact].contains(&moment.name)
}

impl DeskPage {
    pub async fn of(studio: &Studio, id: SwingId) -> Result<Option<DeskPage>, PageError> {
        let (store, state) = (&studio.store, &studio.state);
        let (Some(swing), Some(stored)) =
            (store.swing(id).await?, store.latest_analysis(id).await?)
        else {
            return Ok(None);
        };
        let Some(player) = store.player(swing.player).await? else {
            return Ok(None);
        };
        let kept = store.choices(id).await?;
        let brief = store.brief(id).await?;
        let language = say().language;
        let analysis = state.prescribing.analysis(stored.analysis, language);
        let letter_note = brief.and_then(|brief| brief.letter.coach_note);
        let draft = DraftBox::of(studio, &player, id).await?;
        // Asked for every view, so that none waits for another.
        let made: Vec<bool> = analysis
            .views
            .iter()
            .map(|view| state.bench.begin(id, view.view) == Making::Ready)
            .collect();
        Ok(Some(DeskPage {
            academy: state.academy.clone(),
            player_address: player_address(player.id),
            swing: swing_address(id),
            bench: bench_address(id),
            day: day(swing.filmed_at.unwrap_or(swing.added_at), state),
            to: Addresses::of(id),
            offers: offers(&analysis, &kept.choices),
            why: kept.choices.teaching.priority.why().to_owned(),
            chain: analysis
                .priority
                .as_ref()
                .map_or_else(Vec::new, |priority| priority.chain.clone()),
            dose_half: kept.choices.teaching.dose == DoseChoice::Half,
            dose_lowered: lowered(studio, &player),
            views: views(id, &analysis, &kept.choices),
            pictures_made: made.iter().all(|made| *made),
            note: kept
                .choices
                .note
                .clone()
                .or(letter_note)
                .unwrap_or_default(),
            voice: kept.voice.is_some().then_some(VoiceBox {
                looked: kept.scrub.is_some(),
            }),
            speak: speak(id, &analysis, &kept),
            script_words: script_words(&[STRIP, DESK]),
            draft,
            player: player.facts.name,
            drills: analysis.drills,
            notice: analysis.notice,
        }))
    }

    /// The drill that the lesson has.
    fn is_first(&self, drill: &Drill) -> bool {
        self.drills
            .first()
            .is_some_and(|first| first.key == drill.key)
    }
}

impl DraftBox {
    async fn of(studio: &Studio, player: &Player, id: SwingId) -> Result<DraftBox, PageError> {
        let lesson = match Draft::of(&studio.store, &studio.state.drafts, id).await? {
            Draft::Ready(lesson) => lesson,
            Draft::Under => return Ok(DraftBox::Under),
            Draft::Failed(why) => return Ok(DraftBox::Failed(told(&why))),
        };
        let refused = practice::refusal(studio, &lesson).await?;
        let files = file_links(&studio.store, lesson.id).await?;
        Ok(DraftBox::Ready(Box::new(ReadyBox {
            drafted: minute(lesson.drafted_at, &studio.state),
            approved: lesson.approved_at.map(|at| minute(at, &studio.state)),
            film: files
                .iter()
                .find(|file| file.address.ends_with(".mp4"))
                .map(|file| file.address.clone()),
            files,
            refused: refused
                .filter(|_| lesson.approved_at.is_none())
                .map(|refused| (refused.why, settings_address(player.id))),
            lesson,
        })))
    }
}

/// What could be worked on, in order, and nothing.
fn offers(analysis: &SwingAnalysis, choices: &Choices) -> Vec<Offer> {
    let priority = &choices.teaching.priority;
    let is_chosen = |key: &str| match priority {
        PriorityChoice::AsProposed => key == PROPOSED,
        PriorityChoice::Nothing { .. } => key == NOTHING,
        PriorityChoice::Other { fact, .. } => key == fact,
    };
    // Nothing is proposed where the first weighs less than what nobody has seen.
    let ranking = &analysis.ranking;
    let stands_out = |probability: f64| probability >= ranking.unseen;
    let mut offers: Vec<Offer> = Vec::new();
    for (place, candidate) in ranking.candidates.iter().enumerate() {
        let is_proposed = place == 0 && stands_out(candidate.probability);
        let key = if is_proposed {
            PROPOSED
        } else {
            &candidate.key
        };
        offers.push(Offer {
            key: key.to_owned(),
            title: Text::plain(&candidate.title),
            share: Some(format!("{:.0}", 100.0 * candidate.probability)),
            is_proposed,
            chosen: is_chosen(key),
        });
    }
    let proposes = offers.iter().any(|offer| offer.is_proposed);
    let key = if proposes { NOTHING } else { PROPOSED };
    offers.push(Offer {
        key: key.to_owned(),
        title: t("desk-nothing"),
        share: None,
        is_proposed: !proposes,
        chosen: is_chosen(key),
    });
    if !offers.iter().any(|offer| offer.chosen) {
        // What was chosen is not found any more: what is proposed stands.
        offers
            .iter_mut()
            .for_each(|offer| offer.chosen = offer.is_proposed);
    }
    offers
}

/// Why the screening gives half of the practice, if it does.
fn lowered(studio: &Studio, player: &Player) -> Option<String> {
    let screening = &studio.state.prescribing.said().screening;
    match screening.screen(&player.facts, (studio.state.now)()).care {
        Care::Lowered(reasons) => Some(reasons.join("; ")),
        Care::Full | Care::Withheld => None,
    }
}

fn views(id: SwingId, analysis: &SwingAnalysis, choices: &Choices) -> Vec<Pictures> {
    let is_chosen = |moment: &Moment| match &choices.pictures {
        None => is_usual(moment),
        Some(pictures) => pictures
            .iter()
            .any(|one| (one.view, one.moment) == (moment.view, moment.name)),
    };
    let offer = |moment: &Moment| {
        let [show, words] = picture_names(moment);
        PictureOffer {
            title: words::moment_title(moment.name),
            show,
            words,
            chosen: is_chosen(moment),
            caption: choices.caption(moment.view, moment.name).to_owned(),
            source: frame_address(id, moment.view, moment.frame),
        }
    };
    let of_view = |view: View| Pictures {
        view,
        offers: analysis
            .moments
            .iter()
            .filter(|m| m.view == view)
            .map(offer)
            .collect(),
    };
    analysis
        .views
        .iter()
        .map(|report| of_view(report.view))
        .collect()
}

/// What the recorder needs: each view's strip and the frames of its moments.
fn speak(id: SwingId, analysis: &SwingAnalysis, kept: &StoredChoices) -> String {
    let view = |report: &lessonwright_model::ViewReport| {
        let moments = analysis.moments.iter().filter(|m| m.view == report.view);
        let moments: Vec<serde_json::Value> = moments
            .map(|m| serde_json::json!({ "key": moment_key(m.name), "title": say().text(&words::moment(m.name)), "frame": m.frame }))
            .collect();
        serde_json::json!({
            "view": view_key(report.view),
            "title": say().text(&words::view(report.view)),
            "strip": strip_address(id, report.view),
            "rate_hz": report.rate_hz,
            "moments": moments,
        })
    };
    let views: Vec<serde_json::Value> = analysis.views.iter().map(view).collect();
    let to = Addresses::of(id);
    let progress = format!("{}/progress", bench_address(id));
    serde_json::json!({ "views": views, "to": to.voice, "progress": progress, "again": kept.voice.is_some() }).to_string()
}
