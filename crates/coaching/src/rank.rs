//! The order of what could be worked on, as a probability: the rule of `docs/decisions/012-ranking-causes.md`.
//!
//! One thing is taken to be behind the ball's flight: one of the facts found, or something nobody has seen. Each
//! fact has a weight, and its probability is its share of all weights:
//!
//! ```text
//! own    = telling · flight · set-up · goal · limit
//! weight = own + what downstream facts hand up − what it hands up itself
//! P      = weight / (sum of all weights + UNSEEN)
//! ```
//!
//! - *telling*: s / (s + ½), s how far the near end of the 95 % interval lies outside the range in half-widths
//!   (`findings`); for what the professional saw, s = ¾. So an uncertain measure counts less.
//! - *flight*: the mean over the flights complained of; of a road in the cause table what it counts
//!   (`causes`: grade × how often each link is named), [`NO_ROAD`] where there is none; [`NOT_TOLD`] where no flight,
//!   or none that is a complaint, was told.
//! - *set-up*: × [`SET_UP`] for what is there before the swing begins (grip, aim, stance, posture), which teachers
//!   put right first.
//! - *goal*, *limit*: × [`GOAL`] if it serves a goal of the player, × [`LIMIT`] for each limit of the body
//!   that lowers it.
//! - *upstream before downstream*: a fact hands [`HANDED_UP`] of its weight to the nearest facts found that lead to
//!   it, in proportion to how telling they are; the last of the chain first.
//!
//! Set aside, with the reason: what a limit of the body excludes; tempo while anything else is found; and,
//! where the ball flies as wanted, what is not at least [`CONTENT_STRENGTH`] half-widths outside. The first is the
//! priority unless it weighs less than what nobody has seen ("no change advised").
//!
//! The figures are our choice, made so that a professional can work the sum by hand; none is
//! published. What they give on the written cases is in the decision.

use crate::causes::{CauseTable, Named, Road};
use crate::findings::Found;
use crate::flight::{Flight, Told};
use lessonwright_model::{MomentName, PlayerFacts};

/// How far outside, in half-widths, what the professional saw counts: plainly, less than a band's half-width.
pub(crate) const SEEN_STRENGTH: f64 = 0.75;
/// The strength at which a fact is half as telling as can be, half-widths.
const HALF_TELLING: f64 = 0.5;
/// What a fact counts that has no road to a flight complained of.
pub(crate) const NO_ROAD: f64 = 0.15;
/// What any fact counts where no flight is complained of.
pub(crate) const NOT_TOLD: f64 = 0.5;
/// What lying before the swing counts. That set-up comes first is common practice, no source; the figure is ours.
pub(crate) const SET_UP: f64 = 1.5;
/// What serving a goal of the player counts.
pub(crate) const GOAL: f64 = 1.5;
/// What a limit of the body leaves.
pub(crate) const LIMIT: f64 = 0.25;
/// The share of a weight that goes upstream.
pub(crate) const HANDED_UP: f64 = 0.75;
/// The weight of what nobody has seen: that of a measure just outside its range on a road of grade D.
pub(crate) const UNSEEN: f64 = 0.04;
/// How far outside its band a measure must lie, in half-widths, to speak for a change when the
/// ball already flies as the player wants: plainly outside.
pub(crate) const CONTENT_STRENGTH: f64 = 1.0;

/// All in order.
#[derive(Debug)]
pub(crate) struct Ranked<'a> {
    /// Most likely first.
    pub(crate) entries: Vec<Entry<'a>>,
    /// Found, not ranked, and why.
    pub(crate) set_aside: Vec<(Found<'a>, Aside<'a>)>,
    /// The sum of all weights, that of what nobody has seen included.
    pub(crate) sum: f64,
}

/// Why a fact is not ranked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Aside<'a> {
    /// A limit of the body leaves it no choice.
    Excluded(&'a Named),
    /// Something else was found.
    LastResort,
    /// The ball flies as wanted.
    Content,
}

/// A fact with its weight and what made it.
#[derive(Debug)]
pub(crate) struct Entry<'a> {
    pub(crate) found: Found<'a>,
    pub(crate) telling: f64,
    /// For each flight complained of, its road.
    pub(crate) roads: Vec<(Flight, Option<Road<'a>>)>,
    pub(crate) flight: f64,
    pub(crate) goals: Vec<&'a Named>,
    pub(crate) limits: Vec<&'a Named>,
    /// From which facts, and how much.
    pub(crate) received: Vec<(&'a str, f64)>,
    /// To which facts, and how much.
    pub(crate) handed: Vec<(&'a str, f64)>,
    pub(crate) weight: f64,
}

impl<'a> Ranked<'a> {
    /// The thing to work on; none when nothing stands out.
    pub(crate) fn priority(&self) -> Option<&Entry<'a>> {
        self.entries.first().filter(|first| first.weight >= UNSEEN)
    }

    pub(crate) fn entry(&self, key: &str) -> Option<&Entry<'a>> {
        self.entries.iter().find(|entry| entry.key() == key)
    }

    pub(crate) fn probability(&self, entry: &Entry<'_>) -> f64 {
        entry.weight / self.sum
    }

    /// What is left for something nobody has seen.
    pub(crate) fn unseen(&self) -> f64 {
        UNSEEN / self.sum
    }
}

impl<'a> Entry<'a> {
    pub(crate) fn key(&self) -> &'a str {
        &self.found.body.key
    }

    fn of(
        found: Found<'a>,
        player: &PlayerFacts,
        complaints: &[Flight],
        causes: &'a CauseTable,
    ) -> Entry<'a> {
        let telling = telling(&found);
        let roads: Vec<_> = complaints
            .iter()
            .map(|flight| (*flight, causes.road(found.body, *flight)))
            .collect();
        let counts = roads
            .iter()
            .map(|(_, road)| road.map_or(NO_ROAD, |road| road.counts()));
        let flight = match roads.len() {
            0 => NOT_TOLD,
            n => counts.sum::<f64>() / n as f64,
        };
        let served = |goal: &&Named| {
            player.goals.contains(&goal.key) && causes.serves(found.body, &goal.key)
        };
        let goals: Vec<&Named> = causes.goals().iter().filter(served).collect();
        let lowers = |limit: &&Named| {
            player.limits.contains(&limit.key) && found.body.lowered_by.contains(&limit.key)
        };
        let limits: Vec<&Named> = causes.limits().iter().filter(lowers).collect();
        let goal = if goals.is_empty() { 1.0 } else { GOAL };
        let set_up = if is_set_up(&found) { SET_UP } else { 1.0 };
        Entry {
            weight: telling * flight * set_up * goal * LIMIT.powi(limits.len() as i32),
            found,
            telling,
            roads,
            flight,
            goals,
            limits,
            received: Vec::new(),
            handed: Vec::new(),
        }
    }
}

/// Whether a fact is there before the swing begins.
pub(crate) fn is_set_up(found: &Found<'_>) -> bool {
    found.body.moment == MomentName::Address
}

/// Ranks the facts found.
pub(crate) fn rank<'a>(
    found: Vec<Found<'a>>,
    told: &Told,
    player: &PlayerFacts,
    causes: &'a CauseTable,
) -> Ranked<'a> {
    let (kept, set_aside) = set_aside(found, told, player, causes);
    let complaints = told.complaints();
    let mut entries: Vec<Entry<'a>> = kept
        .into_iter()
        .map(|found| Entry::of(found, player, &complaints, causes))
        .collect();
    hand_up(&mut entries, causes);
    // Stable: of equals the one that comes first in the table, which lists upstream first.
    entries.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    Ranked {
        sum: UNSEEN + entries.iter().map(|entry| entry.weight).sum::<f64>(),
        entries,
        set_aside,
    }
}

/// Between 0 and 1.
fn telling(found: &Found<'_>) -> f64 {
    let measured = found.reading.map_or(0.0, |reading| reading.strength);
    let seen = if found.seen { SEEN_STRENGTH } else { 0.0 };
    let strength = measured.max(seen);
    strength / (strength + HALF_TELLING)
}

type Kept<'a> = (Vec<Found<'a>>, Vec<(Found<'a>, Aside<'a>)>);

fn set_aside<'a>(
    found: Vec<Found<'a>>,
    told: &Told,
    player: &PlayerFacts,
    causes: &'a CauseTable,
) -> Kept<'a> {
    let mut aside = Vec::new();
    let mut kept = Vec::new();
    for one in found {
        let excludes = |limit: &&Named| {
            player.limits.contains(&limit.key) && one.body.excluded_by.contains(&limit.key)
        };
        let strength = one.reading.map_or(0.0, |reading| reading.strength);
        if let Some(limit) = causes.limits().iter().find(excludes) {
            aside.push((one, Aside::Excluded(limit)));
        } else if told.is_content() && strength < CONTENT_STRENGTH {
            aside.push((one, Aside::Content));
        } else {
            kept.push(one);
        }
    }
    if kept.iter().any(|one| !one.body.last_resort) {
        let (last, rest) = kept.into_iter().partition(|one| one.body.last_resort);
        kept = rest;
        let last: Vec<Found<'a>> = last;
        aside.extend(last.into_iter().map(|one| (one, Aside::LastResort)));
    }
    (kept, aside)
}

/// Moves weight upstream, from the end of each chain to its beginning.
fn hand_up(entries: &mut [Entry<'_>], causes: &CauseTable) {
    let leads = |from: &Entry<'_>, to: &Entry<'_>| causes.leads_to(from.key(), to.key());
    // Who leads to another leads to all that the other leads to, and to the other: more.
    let downstream = |of: usize| entries.iter().filter(|to| leads(&entries[of], to)).count();
    let mut order: Vec<usize> = (0..entries.len()).collect();
    order.sort_by_key(|&one| downstream(one));
    for one in order {
        let nearest = nearest_upstream(one, entries, causes);
        let telling: f64 = nearest.iter().map(|&up| entries[up].telling).sum();
        let given = HANDED_UP * entries[one].weight;
        for up in nearest {
            let part = given * entries[up].telling / telling;
            entries[one].weight -= part;
            entries[up].weight += part;
            let (from, to) = (entries[one].key(), entries[up].key());
            entries[one].handed.push((to, part));
            entries[up].received.push((from, part));
        }
    }
}

/// The facts found that lead to one, without those that do so through another.
fn nearest_upstream(one: usize, entries: &[Entry<'_>], causes: &CauseTable) -> Vec<usize> {
    let leads = |from: usize, to: usize| causes.leads_to(entries[from].key(), entries[to].key());
    let upstream: Vec<usize> = (0..entries.len()).filter(|&up| leads(up, one)).collect();
    let direct = |up: &usize| !upstream.iter().any(|&between| leads(*up, between));
    upstream.iter().copied().filter(direct).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    fn ranked<'a>(causes: &'a CauseTable, seen: &[&str], flight: &str) -> Ranked<'a> {
        let seen: BTreeSet<String> = seen.iter().map(|key| key.to_string()).collect();
        let found = causes
            .bodies()
            .iter()
            .filter(|body| seen.contains(&body.key));
        let found = found.map(|body| Found {
            body,
            reading: None,
            seen: true,
        });
        let told = Told::read(Some(flight));
        rank(found.collect(), &told, &PlayerFacts::default(), causes)
    }

    #[test]
    fn the_sum_can_be_worked_by_hand() {
        // Seen: ¾ / (¾ + ½) = 0.6. Slice, grade D and often: 0.7. So 0.42 for each of the two; the hands follow
        // from the hips and give up ¾: 0.42 + 0.315 = 0.735 and 0.105. In all 0.735 + 0.105 + 0.04 = 0.88.
        let causes = CauseTable::standard();
        let ranked = ranked(&causes, &["hands_over", "pelvis_stays_back"], "slice");
        let [first, second] = &ranked.entries[..] else {
            panic!("{ranked:?}")
        };
        assert_eq!(
            (first.key(), second.key()),
            ("pelvis_stays_back", "hands_over")
        );
        assert!((ranked.probability(first) - 0.735 / 0.88).abs() < 1e-12);
        assert!((ranked.probability(second) - 0.105 / 0.88).abs() < 1e-12);
        assert!((ranked.unseen() - 0.04 / 0.88).abs() < 1e-12);
    }

    #[test]
    fn nothing_is_lost_on_the_way_up() {
        let causes = CauseTable::standard();
        let all: Vec<&str> = causes.bodies().iter().map(|b| b.key.as_str()).collect();
        let ranked = ranked(&causes, &all, "slice");
        let set_up = |e: &Entry<'_>| if is_set_up(&e.found) { SET_UP } else { 1.0 };
        let own: f64 = ranked
            .entries
            .iter()
            .map(|e| e.telling * e.flight * set_up(e))
            .sum();
        assert!((ranked.sum - UNSEEN - own).abs() < 1e-9);
        let shares: f64 = ranked.entries.iter().map(|e| ranked.probability(e)).sum();
        assert!((shares + ranked.unseen() - 1.0).abs() < 1e-12);
        assert!(ranked.entries.iter().all(|e| e.weight > 0.0));
    }

    #[test]
    fn weight_goes_to_the_nearest_fact_upstream_and_on_from_there() {
        let causes = CauseTable::standard();
        let ranked = ranked(
            &causes,
            &["pelvis_stays_back", "knees_closed", "elbow_behind"],
            "hook",
        );
        let knees = ranked.entry("knees_closed").unwrap();
        assert_eq!(ranked.entry("elbow_behind").unwrap().handed.len(), 1);
        assert_eq!(knees.received[0].0, "elbow_behind");
        assert_eq!(knees.handed[0].0, "pelvis_stays_back");
        assert_eq!(ranked.entries[0].key(), "pelvis_stays_back");
    }
}
