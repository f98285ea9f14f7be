//! The bench's page.

use super::body_still::{BodyStill, Side};
use super::numbers::Numbers;
use super::routes::{bench_address, frame_address, strip_address, tracks_address};
use super::still::Still;
use crate::AppState;
use crate::error::PageError;
use crate::pages::{day, moment_key, view_key};
use crate::routes::{player_address, swing_address};
use askama::Template;
use lessonwright_language::{Text, filters};
use lessonwright_model::{Hand, MomentName, SwingTracks, View, ViewTracks};
use lessonwright_store::{Clip, Player, Standing, Store, Swing, SwingId};
use serde::Deserialize;
use std::sync::Arc;
use std::time::Duration;

/// What the address asks for.
#[derive(Debug, Default, Deserialize)]
pub struct Asked {
    /// The number of the swing to compare with; empty for none.
    #[serde(default)]
    with: String,
    /// "over" to lay the other swing over this one; else beside it.
    #[serde(default)]
    how: String,
}

impl Asked {
    pub fn with(&self) -> Option<SwingId> {
        self.with.parse().ok().map(SwingId)
    }
}

/// The page.
#[derive(Template)]
#[template(path = "bench.html")]
pub struct BenchPage {
    academy: String,
    player: String,
    player_address: String,
    swing_address: String,
    day: Text,
    address: String,
    /// The swing itself.
    this: OneSwing,
    /// What it is compared with.
    other: Option<OneSwing>,
    laid_over: bool,
    choices: Vec<Choices>,
    moments: Vec<MomentLine>,
    bodies: Vec<BodyLine>,
    numbers: Numbers,
    /// Why there are no tracks; empty where there are.
    why_not: String,
    /// The swing can be analysed again, so it can be corrected.
    correctable: bool,
}

/// One of the two swings, for the scripts.
struct OneSwing {
    id: SwingId,
    title: String,
    tracks: String,
    views: Vec<ViewPanel>,
}

struct ViewPanel {
    view: View,
    key: &'static str,
    strip: String,
}

/// Swings to compare with, under a heading.
struct Choices {
    title: String,
    swings: Vec<Choice>,
}

struct Choice {
    id: SwingId,
    says: String,
    chosen: bool,
}

/// The stills of one moment: this swing's views, then the other's.
struct MomentLine {
    name: MomentName,
    key: &'static str,
    stills: Vec<Still>,
}

/// The fitted body at one moment, from three sides.
struct BodyLine {
    name: MomentName,
    sides: Vec<BodyStill>,
}

impl BenchPage {
    pub async fn of(
        store: &Store,
        state: &AppState,
        id: SwingId,
        asked: &Asked,
    ) -> Result<Option<BenchPage>, PageError> {
        let Some((swing, player)) = whose(store, id).await? else {
            return Ok(None);
        };
        let with = asked.with().filter(|with| *with != id);
        let Some(numbers) = Numbers::of(store, state, id, with).await? else {
            return Ok(None);
        };
        let mine = player.id;
        let clips = store.clips_of(id).await?;
        for clip in &clips {
            state.bench.begin(id, clip.view);
        }
        let (tracks, why_not) = match tracks_soon(state, id).await {
            Ok(tracks) => (Some(tracks), String::new()),
            Err(why) => (None, why),
        };
        let mut other = None;
        let mut other_tracks = None;
        if let Some(with) = with
            && let Some((swing, player)) = whose(store, with).await?
        {
            let clips = store.clips_of(with).await?;
            for clip in &clips {
                state.bench.begin(with, clip.view);
            }
            let mut one = OneSwing::of(&swing, &player, &clips);
            if player.id == mine {
                one.title = state.say().text(&day_of(&swing, state));
            }
            other = Some(one);
            other_tracks = tracks_soon(state, with).await.ok();
        }
        let both = [(id, tracks.clone()), (with.unwrap_or(id), other_tracks)];
        Ok(Some(BenchPage {
            academy: state.academy.clone(),
            player_address: player_address(player.id),
            swing_address: swing_address(id),
            day: day_of(&swing, state),
            address: bench_address(id),
            choices: choices(store, state, &swing, with).await?,
            moments: moments(&both),
            bodies: tracks.as_deref().map(bodies).unwrap_or_default(),
            this: OneSwing::of(&swing, &player, &clips),
            other,
            laid_over: asked.how == "over",
            numbers,
            correctable: why_not.is_empty(),
            why_not,
            player: player.facts.name,
        }))
    }
}

/// Tracks are there within a second, unless what was seen in the clips is no longer kept.
const TRACKS_WITHIN: Duration = Duration::from_secs(6);

pub(super) async fn tracks_soon(state: &AppState, id: SwingId) -> Result<Arc<SwingTracks>, String> {
    let soon = tokio::time::timeout(TRACKS_WITHIN, state.bench.tracks(id)).await;
    soon.unwrap_or_else(|_| {
        let wait = "The clips are being looked at again, which takes a minute or two: load this page again then.";
        Err(wait.to_owned())
    })
}

impl OneSwing {
    fn of(swing: &Swing, player: &Player, clips: &[Clip]) -> OneSwing {
        OneSwing {
            id: swing.id,
            title: player.facts.name.clone(),
            tracks: tracks_address(swing.id),
            views: clips
                .iter()
                .map(|clip| ViewPanel {
                    view: clip.view,
                    key: view_key(clip.view),
                    strip: strip_address(swing.id, clip.view),
                })
                .collect(),
        }
    }
}

async fn whose(store: &Store, id: SwingId) -> Result<Option<(Swing, Player)>, PageError> {
    let Some(swing) = store.swing(id).await? else {
        return Ok(None);
    };
    // Erased between the two questions: then the swing is gone as well.
    let player = store.player(swing.player).await?;
    Ok(player.map(|player| (swing, player)))
}

pub(super) fn day_of(swing: &Swing, state: &AppState) -> Text {
    day(swing.filmed_at.unwrap_or(swing.added_at), state)
}

/// As many swings of other players as can be looked through in a list.
const MOST_OTHERS: usize = 200;

/// The player's other swings, then those of others that were added last: those that were analysed.
async fn choices(
    store: &Store,
    state: &AppState,
    this: &Swing,
    with: Option<SwingId>,
) -> Result<Vec<Choices>, PageError> {
    let choice = |standing: &Standing, whose: &str| Choice {
        id: standing.swing,
        says: format!(
            "{whose}{} (swing {})",
            state.say().text(&day(standing.made_at, state)),
            standing.swing
        ),
        chosen: with == Some(standing.swing),
    };
    let own = store.standings_of(this.player).await?;
    let own = own
        .iter()
        .filter(|one| one.analysed && one.swing != this.id);
    let own: Vec<Choice> = own.map(|one| choice(one, "")).collect();
    let others = store.swings_of_others(this.player, MOST_OTHERS).await?;
    let others = others.iter().filter_map(|line| {
        let facts = &line.player.facts;
        let hand = facts.hand.map_or(String::new(), |hand| format!(", {hand}"));
        Some(choice(
            line.latest.as_ref()?,
            &format!("{}{hand}, ", facts.name),
        ))
    });
    let others: Vec<Choice> = others.collect();
    let titled = [
        ("The player’s own swings", own),
        ("Other players and models", others),
    ];
    Ok(titled
        .into_iter()
        .filter(|(_, swings)| !swings.is_empty())
        .map(|(title, swings)| Choices {
            title: title.to_owned(),
            swings,
        })
        .collect())
}

type Tracked = (SwingId, Option<Arc<SwingTracks>>);

/// A line of stills for each moment that the swing itself has.
fn moments([this, other]: &[Tracked; 2]) -> Vec<MomentLine> {
    let stills = |(id, tracks): &Tracked, name: MomentName, whose: &str| -> Vec<Still> {
        let views = tracks.iter().flat_map(|tracks| &tracks.views);
        views
            .filter_map(|view| {
                let address = |frame| frame_address(*id, view.view, frame);
                Still::of(view, name, whose, address)
            })
            .collect()
    };
    MomentName::ALL
        .into_iter()
        .filter_map(|name| {
            let mut all = stills(this, name, "");
            if all.is_empty() {
                return None;
            }
            all.extend(stills(other, name, "the other swing, "));
            Some(MomentLine {
                name,
                key: moment_key(name),
                stills: all,
            })
        })
        .collect()
}

/// The first fitted body at its moments.
fn bodies(tracks: &SwingTracks) -> Vec<BodyLine> {
    let Some(body) = tracks.bodies.first() else {
        return Vec::new();
    };
    let Some(view) = tracks.views.get(body.clip) else {
        return Vec::new();
    };
    let line = |name: MomentName| {
        let pose = body.poses.get(index_of(view, name)?)?.as_ref()?;
        let left = view.hand == Hand::Left;
        let sides = [Side::FaceOn, Side::DownTheLine, Side::Above];
        Some(BodyLine {
            name,
            sides: sides
                .into_iter()
                .map(|side| BodyStill::of(body, pose, side, left))
                .collect(),
        })
    };
    MomentName::ALL.into_iter().filter_map(line).collect()
}

/// Which of the frames looked at is nearest to a moment.
fn index_of(view: &ViewTracks, name: MomentName) -> Option<usize> {
    let moment = view.moments.iter().find(|moment| moment.name == name)?;
    view.frames.binary_search(&moment.frame).ok()
}
