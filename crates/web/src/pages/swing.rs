//! A swing: what it comes to, its lesson, and every number behind it.

use super::by_hand::{ByHand, key};
use super::{Cell, Progress, Upshot, day, minute, number};
use crate::AppState;
use crate::bench::bench_address;
use crate::desk::desk_address;
use crate::error::PageError;
use crate::language::say;
use crate::lesson_files::{FileLink, file_links};
use crate::routes::{approval_address, lesson_address, player_address};
use crate::swing_ball::SwingBallBox;
use crate::today::{aside_address, sent_address};
use askama::Template;
use lessonwright_language::{Text, filters, t, words};
use lessonwright_model::measure::table;
use lessonwright_model::{
    Candidate, CauseGrade, Hand, Measure, Moment, MomentName, ShownBy, SwingAnalysis, View,
    ViewReport,
};
use lessonwright_report::{Amount, ChainPicture, Chart, Spread, Title, Units, When};
use lessonwright_store::{LessonSummary, Store, StoredAnalysis, SwingId};

/// One swing.
#[derive(Template)]
#[template(path = "swing.html")]
pub struct SwingPage {
    academy: String,
    player: String,
    player_address: String,
    bench: String,
    desk: String,
    day: Text,
    progress: Progress,
    upshot: Upshot,
    lesson: Option<LessonBox>,
    /// The professional looked at it and it needs no lesson.
    set_aside: bool,
    aside: String,
    analysis: Option<SwingAnalysis>,
    computed: Option<Text>,
    moments: Vec<MomentLine>,
    candidates: Vec<CandidateLine>,
    held: Vec<MeasureLine>,
    table: Vec<PartLines>,
    ball: SwingBallBox,
    /// None where the swing can't be analysed again.
    by_hand: Option<ByHand>,
}

/// One thing that could be worked on.
struct CandidateLine {
    place: usize,
    title: String,
    /// Hundredths.
    percent: String,
    seen: bool,
    why: Vec<String>,
    picture: Option<ChainPicture>,
}

struct LessonBox {
    address: String,
    approval: String,
    drafted: Text,
    approved: Option<Text>,
    sent: Option<Text>,
    mark_sent: String,
    /// On paper and as a film, where it has them.
    files: Vec<FileLink>,
    /// The swing was computed again since.
    outdated: bool,
}

struct MomentLine {
    name: MomentName,
    /// Its name in a form.
    key: &'static str,
    /// In the order of the views.
    moments: Vec<Option<Moment>>,
}

/// A measure that is held against a range.
struct MeasureLine {
    title: Title,
    when: When,
    view: Option<View>,
    cell: Cell,
    chart: Option<Chart>,
    reason: String,
}

/// What the table has of one part of the body.
struct PartLines {
    title: Text,
    lines: Vec<TableLine>,
}

/// A measure at a moment, or one that is withheld at all of them.
struct TableLine {
    title: Title,
    when: Option<When>,
    number: Option<(Amount, Option<Spread>)>,
    view: Option<View>,
    reason: String,
}

impl SwingPage {
    pub async fn of(
        store: &Store,
        state: &AppState,
        id: SwingId,
    ) -> Result<Option<SwingPage>, PageError> {
        let Some(swing) = store.swing(id).await? else {
            return Ok(None);
        };
        let state = &state.held_for(id).await;
        // Erased between the two questions: then the swing is gone as well.
        let Some(player) = store.player(swing.player).await? else {
            return Ok(None);
        };
        let state = &state.for_player(&player);
        let stored = store.latest_analysis(id).await?;
        let lessons = store.lessons_of_swing(id).await?;
        let files = match lessons.first() {
            Some(lesson) => file_links(store, lesson.id).await?,
            None => Vec::new(),
        };
        let again = store.brief(id).await?.is_some();
        let can_undo = !store.corrections_of(id).await?.is_empty();
        let latest = stored.as_ref().map(|stored| stored.id);
        let computed = stored
            .as_ref()
            .map(|stored| minute(stored.computed_at, state));
        let language = say().language;
        let said = |stored: StoredAnalysis| state.prescribing.analysis(stored.analysis, language);
        let analysis = stored.map(said);
        Ok(Some(SwingPage {
            academy: state.academy.clone(),
            player_address: player_address(player.id),
            bench: bench_address(id),
            ball: SwingBallBox::of(id, store.ball(id).await?).await,
            desk: desk_address(id),
            player: player.facts.name,
            day: day(swing.filmed_at.unwrap_or(swing.added_at), state),
            progress: Progress::of(analysis.as_ref(), &lessons),
            upshot: Upshot::of(analysis.as_ref()),
            set_aside: swing.set_aside_at.is_some()
                && lessons.iter().all(|l| l.approved_at.is_none()),
            aside: aside_address(id),
            lesson: lessons
                .first()
                .map(|lesson| LessonBox::of(lesson, latest != Some(lesson.analysis), files, state)),
            moments: analysis.as_ref().map(moments).unwrap_or_default(),
            by_hand: analysis
                .as_ref()
                .filter(|_| again)
                .map(|analysis| ByHand::of(id, analysis, &state.trade(), can_undo)),
            candidates: analysis.as_ref().map(candidates).unwrap_or_default(),
            held: analysis
                .iter()
                .flat_map(|analysis| &analysis.measures)
                .filter_map(|measure| MeasureLine::of(measure, state))
                .collect(),
            table: analysis
                .iter()
                .flat_map(|analysis| table(&analysis.measures))
                .map(|(part, lines)| PartLines {
                    title: words::part(part),
                    lines: lines
                        .iter()
                        .map(|l| TableLine::of(l, state.units))
                        .collect(),
                })
                .collect(),
            computed,
            analysis,
        }))
    }
}

impl LessonBox {
    fn of(
        lesson: &LessonSummary,
        outdated: bool,
        files: Vec<FileLink>,
        state: &AppState,
    ) -> LessonBox {
        LessonBox {
            files,
            outdated,
            address: lesson_address(lesson.id),
            approval: approval_address(lesson.id),
            drafted: minute(lesson.drafted_at, state),
            approved: lesson.approved_at.map(|at| minute(at, state)),
            sent: lesson.sent_at.map(|at| minute(at, state)),
            mark_sent: sent_address(lesson.id),
        }
    }

    /// How far it has come: a lesson is approved before it is sent.
    fn says(&self) -> Text {
        let drafted = |id| t(id).with("drafted", &self.drafted);
        match (&self.approved, &self.sent) {
            (None, _) => drafted("swing-lesson-drafted"),
            (Some(approved), None) => drafted("swing-lesson-approved").with("approved", approved),
            (Some(approved), Some(sent)) => drafted("swing-lesson-sent")
                .with("approved", approved)
                .with("sent", sent),
        }
    }
}

impl MeasureLine {
    fn of(measure: &Measure, state: &AppState) -> Option<MeasureLine> {
        let reference = (state.reference)(measure)?;
        Some(MeasureLine {
            title: Title(measure.name),
            when: When::of(measure),
            view: measure.view,
            cell: Cell::of(measure, state),
            chart: Chart::new(measure, Some(&reference), None, state.units, false),
            reason: measure.reason.clone(),
        })
    }
}

impl TableLine {
    fn of(line: &[Measure], units: Units) -> TableLine {
        let first = &line[0];
        let when = When::of(first);
        TableLine {
            title: Title(first.name),
            when: (line.len() == 1 && !when.is_whole_motion()).then_some(when),
            number: number(first, units),
            view: first.view.filter(|_| first.value.is_some()),
            reason: first.reason.clone(),
        }
    }
}

/// All that could be worked on, with pictures for the player's hand.
fn candidates(analysis: &SwingAnalysis) -> Vec<CandidateLine> {
    let hand = analysis.views.first().map_or(Hand::Right, |view| view.hand);
    let line = |(at, candidate): (usize, &Candidate)| CandidateLine {
        place: at + 1,
        title: candidate.title.clone(),
        percent: percent(candidate.probability),
        seen: candidate.shown_by == ShownBy::Professional,
        why: candidate.why.clone(),
        picture: ChainPicture::of(&candidate.chain, hand),
    };
    analysis
        .ranking
        .candidates
        .iter()
        .enumerate()
        .map(line)
        .collect()
}

/// What is known of a clip, in a sentence.
fn clip(view: &ViewReport) -> Text {
    let from = |stated| match stated {
        true => t("swing-clip-stated"),
        false => t("swing-clip-recognised"),
    };
    let slow = view.capture_rate_hz != view.rate_hz;
    let says = t(if slow {
        "swing-clip-slow"
    } else {
        "swing-clip"
    })
    .with("view", words::view(view.view))
    .with("view-from", from(view.view_stated))
    .with("hand", words::hand(view.hand))
    .with("hand-from", from(view.hand_stated))
    .with("width", view.width_px)
    .with("height", view.height_px)
    .with("rate", Text::decimal(view.rate_hz, 1));
    match slow {
        true => says.with("capture-rate", Text::decimal(view.capture_rate_hz, 1)),
        false => says,
    }
}

/// A probability in whole hundredths.
fn percent(probability: f64) -> String {
    format!("{:.0}", 100.0 * probability)
}

/// A line for each moment that was found in any view.
fn moments(analysis: &SwingAnalysis) -> Vec<MomentLine> {
    let found = |name, view: &ViewReport| {
        let is = |m: &&Moment| m.name == name && m.view == view.view;
        analysis.moments.iter().find(is).cloned()
    };
    MomentName::ALL
        .into_iter()
        .map(|name| MomentLine {
            name,
            key: form_name(name),
            moments: analysis
                .views
                .iter()
                .map(|view| found(name, view))
                .collect(),
        })
        .filter(|line| line.moments.iter().any(Option::is_some))
        .collect()
}

/// A moment's name in a form and in the JSON: `lead_arm_level_back`.
pub fn form_name(name: MomentName) -> &'static str {
    match name {
        MomentName::Address => "address",
        MomentName::ShaftLevelBack => "shaft_level_back",
        MomentName::LeadArmLevelBack => "lead_arm_level_back",
        MomentName::Top => "top",
        MomentName::LeadArmLevelDown => "lead_arm_level_down",
        MomentName::ShaftLevelDown => "shaft_level_down",
        MomentName::Impact => "impact",
        MomentName::Finish => "finish",
    }
}
