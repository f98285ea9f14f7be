//! Before and after: two swings of one player at the same moments, a picture of each with its measures beneath.

use super::Making;
use super::page::{day_of, tracks_soon};
use super::routes::frame_address;
use super::still::Still;
use crate::AppState;
use crate::error::PageError;
use crate::follow::progress_address;
use crate::pages::{day, number, view_key};
use crate::routes::{player_address, swing_address};
use askama::Template;
use lessonwright_model::{Measure, MomentName, SwingAnalysis, SwingTracks, View};
use lessonwright_report::{Amount, Spread, Title, Units, When};
use lessonwright_store::{PlayerId, Standing, Store, Swing, SwingId};
use serde::Deserialize;
use std::sync::Arc;

/// What the address asks for; empty for the first and the newest swing, and the view that both have.
#[derive(Debug, Default, Deserialize)]
pub struct Chosen {
    #[serde(default)]
    before: String,
    #[serde(default)]
    after: String,
    #[serde(default)]
    view: String,
}

/// Where two swings of a player stand side by side.
pub fn before_after_address(id: PlayerId) -> String {
    format!("{}/before-after", player_address(id))
}

/// The page.
#[derive(Template)]
#[template(path = "before_after.html")]
pub struct BeforeAfter {
    player: String,
    player_address: String,
    follow_up: String,
    address: String,
    befores: Vec<Choice>,
    afters: Vec<Choice>,
    views: Vec<ViewChoice>,
    /// None where the player has fewer than two analysed swings.
    pair: Option<Pair>,
}

struct Choice {
    key: SwingId,
    says: String,
    chosen: bool,
}

struct ViewChoice {
    view: View,
    key: &'static str,
    chosen: bool,
}

/// The two swings.
struct Pair {
    sides: [Side; 2],
    lines: Vec<MomentLine>,
    /// Measures that belong to no moment that is shown.
    others: Vec<MeasureLine>,
    /// Some pictures are still being made.
    making: bool,
}

struct Side {
    address: String,
    day: String,
    /// Why there are no pictures; empty where there are.
    why_not: String,
}

struct MomentLine {
    name: MomentName,
    stills: [Option<Still>; 2],
    measures: Vec<MeasureLine>,
}

struct MeasureLine {
    title: Title,
    when: When,
    numbers: [Option<(Amount, Option<Spread>)>; 2],
}

/// One of the two while the page is made.
struct Loaded {
    swing: Swing,
    analysis: SwingAnalysis,
    tracks: Result<Arc<SwingTracks>, String>,
    making: bool,
}

impl BeforeAfter {
    pub async fn of(
        store: &Store,
        state: &AppState,
        id: PlayerId,
        chosen: &Chosen,
    ) -> Result<Option<BeforeAfter>, PageError> {
        let Some(player) = store.player(id).await? else {
            return Ok(None);
        };
        let mut swings = store.standings_of(id).await?;
        swings.retain(|standing| standing.analysed);
        swings.sort_by_key(|standing| (standing.made_at, standing.swing));
        let picked = |text: &str| {
            let key = text.parse().ok().map(SwingId)?;
            swings
                .iter()
                .map(|one| one.swing)
                .find(|swing| *swing == key)
        };
        let ends = swings
            .first()
            .map(|one| one.swing)
            .zip(swings.last().map(|one| one.swing));
        let keys = ends
            .filter(|(first, last)| first != last)
            .map(|(first, last)| {
                let before = picked(&chosen.before).unwrap_or(first);
                [before, picked(&chosen.after).unwrap_or(last)]
            });
        let state = &state.for_player(&player);
        let mut views = Vec::new();
        let mut pair = None;
        if let Some([before, after]) = keys
            && let Some(before) = Loaded::of(store, state, before).await?
            && let Some(after) = Loaded::of(store, state, after).await?
        {
            views = views_of(&before, &after, &chosen.view);
            let view = views.iter().find(|one| one.chosen).map(|one| one.view);
            pair = Some(Pair::of([before, after], view, state));
        }
        let choices = |at: usize| {
            let of = |one: &Standing| Choice {
                key: one.swing,
                says: format!("{} (swing {})", day(one.made_at, state), one.swing),
                chosen: keys.is_some_and(|keys| keys[at] == one.swing),
            };
            swings.iter().rev().map(of).collect()
        };
        Ok(Some(BeforeAfter {
            player: player.facts.name,
            player_address: player_address(id),
            follow_up: progress_address(id),
            address: before_after_address(id),
            befores: choices(0),
            afters: choices(1),
            views,
            pair,
        }))
    }
}

impl Loaded {
    async fn of(store: &Store, state: &AppState, id: SwingId) -> Result<Option<Loaded>, PageError> {
        let (Some(swing), Some(stored)) =
            (store.swing(id).await?, store.latest_analysis(id).await?)
        else {
            return Ok(None);
        };
        let mut making = false;
        for clip in store.clips_of(id).await? {
            let how_far = state.bench.begin(id, clip.view);
            making |= matches!(how_far, Making::Waiting | Making::Under { .. });
        }
        Ok(Some(Loaded {
            swing,
            analysis: stored.analysis,
            tracks: tracks_soon(state, id).await,
            making,
        }))
    }

    fn has(&self, view: View) -> bool {
        self.analysis.views.iter().any(|report| report.view == view)
    }

    fn still(&self, name: MomentName, view: View, whose: &str) -> Option<Still> {
        let tracks = self.tracks.as_ref().ok()?;
        let found = tracks.views.iter().find(|one| one.view == view)?;
        Still::of(found, name, whose, |frame| {
            frame_address(self.swing.id, view, frame)
        })
    }

    fn measure(&self, like: &Measure) -> Option<&Measure> {
        self.analysis.measures.iter().find(|one| same(one, like))
    }
}

/// Measures in the same view only: views have errors of their own.
fn same(one: &Measure, other: &Measure) -> bool {
    let key = |m: &Measure| (m.name, m.moment, m.against, m.view);
    key(one) == key(other)
}

/// Views that both swings have; the one asked for is chosen, else the first.
fn views_of(before: &Loaded, after: &Loaded, asked: &str) -> Vec<ViewChoice> {
    let both = [View::FaceOn, View::DownTheLine].into_iter();
    let both: Vec<View> = both.filter(|v| before.has(*v) && after.has(*v)).collect();
    let of_key = both.iter().copied().find(|view| view_key(*view) == asked);
    let chosen = of_key.or(both.first().copied());
    both.into_iter()
        .map(|view| ViewChoice {
            view,
            key: view_key(view),
            chosen: chosen == Some(view),
        })
        .collect()
}

impl Pair {
    fn of(two: [Loaded; 2], view: Option<View>, state: &AppState) -> Pair {
        let [before, after] = &two;
        let mut shared: Vec<&Measure> = Vec::new();
        for measure in &after.analysis.measures {
            let both = measure.value.is_some()
                && before
                    .measure(measure)
                    .is_some_and(|one| one.value.is_some());
            if both && !shared.iter().any(|known| same(known, measure)) {
                shared.push(measure);
            }
        }
        let line = |measure: &&Measure| MeasureLine::of(before, measure, state.units);
        let moments = |name: &MomentName| {
            let view = view?;
            let stills = [
                before.still(*name, view, "before, "),
                after.still(*name, view, "after, "),
            ];
            if stills.iter().any(Option::is_none) {
                return None;
            }
            let own = shared.iter().filter(|m| m.moment == *name && !whole(m));
            Some(MomentLine {
                name: *name,
                stills,
                measures: own.map(line).collect(),
            })
        };
        let lines: Vec<MomentLine> = MomentName::ALL.iter().filter_map(moments).collect();
        let shown = |m: &Measure| !whole(m) && lines.iter().any(|line| line.name == m.moment);
        let others = shared.iter().filter(|m| !shown(m)).map(line).collect();
        Pair {
            making: before.making || after.making,
            sides: [Side::of(before, state), Side::of(after, state)],
            lines,
            others,
        }
    }
}

/// A measure of the whole motion belongs to no one moment.
fn whole(measure: &Measure) -> bool {
    When::of(measure).is_whole_motion()
}

impl Side {
    fn of(loaded: &Loaded, state: &AppState) -> Side {
        Side {
            address: swing_address(loaded.swing.id),
            day: day_of(&loaded.swing, state),
            why_not: loaded.tracks.as_ref().err().cloned().unwrap_or_default(),
        }
    }
}

impl MeasureLine {
    fn of(before: &Loaded, after: &Measure, units: Units) -> MeasureLine {
        MeasureLine {
            title: Title(after.name),
            when: When::of(after),
            numbers: [
                before.measure(after).and_then(|one| number(one, units)),
                number(after, units),
            ],
        }
    }
}
