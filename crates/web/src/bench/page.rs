//! The bench's page.

use super::body_still::{BodyStill, Side};
use super::numbers::Numbers;
use super::routes::{bench_address, frame_address, strip_address, tracks_address};
use super::still::Still;
use crate::AppState;
use crate::error::PageError;
use crate::pages::{day, moment_key, view_key};
use crate::routes::{player_address, swing_address};
use crate::script_words::{BENCH, STRIP, script_words};
use askama::Template;
use lessonwright_language::filters::told;
use lessonwright_language::{Text, filters, t, words};
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
    /// Why there are no tracks.
    why_not: Option<Text>,
    /// For the scripts: JSON.
    words: String,
    /// The swing can be analysed again, so it can be corrected.
    correctable: bool,
}

/// One of the two swings, for the scripts.
struct OneSwing {
    id: SwingId,
    title: Text,
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
    title: Text,
    swings: Vec<Choice>,
}

struct Choice {
    id: SwingId,
    says: Text,
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
            Ok(tracks) => (Some(tracks), None),
            Err(why) => (None, Some(why)),
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
                one.title = day_of(&swing, state);
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
            correctable: why_not.is_none(),
            words: script_words(&[STRIP, BENCH]),
            why_not,
            player: player.facts.name,
        }))
    }
}

/// Tracks are there within a second, unless what was seen in the clips is no longer kept.
const TRACKS_WITHIN: Duration = Duration::from_secs(6);

pub(super) async fn tracks_soon(state: &AppState, id: SwingId) -> Result<Arc<SwingTracks>, Text> {
    match tokio::time::timeout(TRACKS_WITHIN, state.bench.tracks(id)).await {
        Ok(tracks) => tracks.map_err(|why| told(&why)),
        Err(_) => Err(t("bench-wait-again")),
    }
}

impl OneSwing {
    fn of(swing: &Swing, player: &Player, clips: &[Clip]) -> OneSwing {
        OneSwing {
            id: swing.id,
            title: Text::plain(&player.facts.name),
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
    let choice = |standing: &Standing, whose: Option<Text>| Choice {
        id: standing.swing,
        says: Text::joined(
            whose.into_iter().chain([choice_words(standing, state)]),
            ", ",
        ),
        chosen: with == Some(standing.swing),
    };
    let own = store.standings_of(this.player).await?;
    let own = own
        .iter()
        .filter(|one| one.analysed && one.swing != this.id);
    let own: Vec<Choice> = own.map(|one| choice(one, None)).collect();
    let others = store.swings_of_others(this.player, MOST_OTHERS).await?;
    let others = others.iter().filter_map(|line| {
        let facts = &line.player.facts;
        let name = [Text::plain(&facts.name)];
        let whose = name.into_iter().chain(facts.hand.map(words::hand));
        Some(choice(
            line.latest.as_ref()?,
            Some(Text::joined(whose, ", ")),
        ))
    });
    let others: Vec<Choice> = others.collect();
    let titled = [
        (t("bench-own-swings"), own),
        (t("bench-other-players"), others),
    ];
    Ok(titled
        .into_iter()
        .filter(|(_, swings)| !swings.is_empty())
        .map(|(title, swings)| Choices { title, swings })
        .collect())
}

/// A swing to choose: its day and number.
pub(super) fn choice_words(standing: &Standing, state: &AppState) -> Text {
    t("bench-choice")
        .with("day", day(standing.made_at, state))
        .with("swing", standing.swing.to_string())
}

type Tracked = (SwingId, Option<Arc<SwingTracks>>);

/// A line of stills for each moment that the swing itself has.
fn moments([this, other]: &[Tracked; 2]) -> Vec<MomentLine> {
    let stills = |(id, tracks): &Tracked, name: MomentName, whose: Option<Text>| -> Vec<Still> {
        let views = tracks.iter().flat_map(|tracks| &tracks.views);
        views
            .filter_map(|view| {
                let address = |frame| frame_address(*id, view.view, frame);
                Still::of(view, name, whose.clone(), address)
            })
            .collect()
    };
    MomentName::ALL
        .into_iter()
        .filter_map(|name| {
            let mut all = stills(this, name, None);
            if all.is_empty() {
                return None;
            }
            all.extend(stills(other, name, Some(t("bench-whose-other"))));
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
