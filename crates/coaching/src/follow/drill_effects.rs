//! Which drills moved which numbers, over the roster. Players are not drawn by lot and were taught other things
//! besides: a list to think with, no proof.

use super::pool::{Pooled, pool};
use super::roster::Roster;
use super::series::{Counted, Series};
use super::set_up::SetUp;
use super::variance::{Session, Variances, level};
use lessonwright_model::{Given, History, Place};
use std::collections::{BTreeMap, BTreeSet};

/// One drill over the roster.
#[derive(Clone, Debug, PartialEq)]
pub struct DrillEffect {
    /// Key.
    pub drill: String,
    /// Title, as last prescribed.
    pub title: String,
    /// Players it was prescribed to.
    pub players: usize,
    /// The numbers it was prescribed for.
    pub aimed: Vec<Moved>,
    /// Other numbers that moved beyond error in `FEWEST` players or more.
    pub besides: Vec<Moved>,
    /// How many other numbers were looked at: about one in twenty moves by chance.
    pub looked_at: usize,
}

/// How far a drill moved a number.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// Which number.
    pub place: Place,
    /// Players with swings before and after.
    pub players: usize,
    /// Of them, those filmed during practice only.
    pub in_practice: usize,
    /// Mean of their changes, in the measure's unit and sign.
    pub mean: f64,
    /// Mean change with its interval; none with fewer than `FEWEST` players.
    pub pooled: Option<Pooled>,
    /// Mean of what chance alone would bring (regression to the mean); none where too few players tell, and
    /// for numbers that nobody picked.
    pub by_chance: Option<f64>,
    /// The mean change less what chance alone would bring, pooled in the same way.
    pub beyond_chance: Option<Pooled>,
}

/// With fewer players no interval is given. Ours.
pub const FEWEST: usize = 3;

struct Episode<'a> {
    history: &'a History,
    given: &'a Given,
}

impl Roster {
    /// Every drill that was prescribed, most players first.
    pub fn drill_effects(&self) -> Vec<DrillEffect> {
        let mut drills: BTreeMap<&str, Vec<Episode<'_>>> = BTreeMap::new();
        for history in &self.histories {
            for given in &history.given {
                let episodes = drills.entry(&given.drill).or_default();
                episodes.push(Episode { history, given });
            }
        }
        let mut effects: Vec<DrillEffect> = drills
            .iter()
            .map(|(drill, all)| self.effect(drill, all))
            .collect();
        effects.sort_by(|a, b| b.players.cmp(&a.players).then(a.drill.cmp(&b.drill)));
        effects
    }

    fn effect(&self, drill: &str, episodes: &[Episode<'_>]) -> DrillEffect {
        let aims: BTreeSet<Place> = episodes
            .iter()
            .filter_map(|e| Some(e.given.aim?.place))
            .collect();
        let players: BTreeSet<i64> = episodes.iter().map(|e| e.history.player).collect();
        let others: BTreeSet<Place> = episodes
            .iter()
            .flat_map(|e| &e.history.swings)
            .flat_map(|s| &s.measures)
            .filter(|m| m.value.is_some())
            .map(Place::of)
            .filter(|place| !aims.contains(place))
            .collect();
        // Fewer players than give an interval can't show anything besides.
        let moved: Vec<Moved> = match players.len() < FEWEST {
            true => Vec::new(),
            false => others
                .iter()
                .filter_map(|place| self.moved(*place, episodes, false))
                .filter(|moved| moved.players >= FEWEST)
                .collect(),
        };
        let looked_at = moved.len();
        let beyond = |m: &Moved| {
            m.pooled
                .is_some_and(|p| p.interval.low > 0.0 || p.interval.high < 0.0)
        };
        DrillEffect {
            drill: drill.to_owned(),
            title: episodes
                .last()
                .map_or_else(String::new, |e| e.given.title.clone()),
            players: players.len(),
            aimed: aims
                .iter()
                .filter_map(|place| self.moved(*place, episodes, true))
                .collect(),
            besides: moved.into_iter().filter(beyond).collect(),
            looked_at,
        }
    }

    /// How far a number moved in the players of these episodes; of each player the first counts.
    fn moved(&self, place: Place, episodes: &[Episode<'_>], aimed: bool) -> Option<Moved> {
        let set_up = self.set_up(place)?;
        let variances = set_up.variances();
        let mut seen = BTreeSet::new();
        let mut steps = Vec::new();
        for episode in episodes {
            let for_it = episode.given.aim.is_some_and(|aim| aim.place == place);
            if aimed != for_it || seen.contains(&episode.history.player) {
                continue;
            }
            if let Some(step) = step(episode, place, &set_up, variances, aimed) {
                seen.insert(episode.history.player);
                steps.push(step);
            }
        }
        if steps.is_empty() {
            return None;
        }
        let n = steps.len() as f64;
        let chance: Option<Vec<f64>> = match aimed {
            true => steps.iter().map(|s| s.by_chance).collect(),
            false => None,
        };
        let enough = steps.len() >= FEWEST;
        let pooled = |less: &dyn Fn(usize) -> f64| {
            let all: Vec<(f64, f64)> = steps
                .iter()
                .enumerate()
                .map(|(i, s)| (s.change - less(i), s.variance))
                .collect();
            pool(&all).filter(|_| enough)
        };
        Some(Moved {
            place,
            players: steps.len(),
            in_practice: steps.iter().filter(|s| s.in_practice).count(),
            mean: steps.iter().map(|s| s.change).sum::<f64>() / n,
            pooled: pooled(&|_| 0.0),
            by_chance: chance.as_ref().map(|all| all.iter().sum::<f64>() / n),
            beyond_chance: chance.as_ref().and_then(|all| pooled(&|i| all[i])),
        })
    }
}

/// One player's change.
struct StepTaken {
    change: f64,
    variance: f64,
    by_chance: Option<f64>,
    in_practice: bool,
}

fn step(
    episode: &Episode<'_>,
    place: Place,
    set_up: &SetUp,
    variances: Variances,
    aimed: bool,
) -> Option<StepTaken> {
    let series = Series::around(episode.history, episode.given, place);
    let later = |kinds: &[Counted]| -> Vec<Session> {
        let of = |n: &&super::series::Number| kinds.contains(&n.counted);
        super::series::sessions(series.after.iter().filter(of))
    };
    let learned = later(&[Counted::Retention, Counted::Unmarked]);
    let in_practice = learned.is_empty();
    let after = match in_practice {
        true => later(&[Counted::Practice]),
        false => learned,
    };
    let first = level(&series.sessions_before(), variances)?;
    let second = level(&after, variances)?;
    let player = episode.history.player;
    // Only a number that was picked comes back by chance.
    let picked = aimed.then(|| set_up.population(Some(player))).flatten();
    let by_chance = picked.map(|all| super::change::regression(&all, first.mean, first.variance));
    Some(StepTaken {
        change: second.mean - first.mean,
        variance: first.variance + second.variance,
        by_chance,
        in_practice,
    })
}
