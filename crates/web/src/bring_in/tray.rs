//! The tray: what came in, which clips are taken for one swing, and the queue with how far each is.

use super::routes::{picture_address, post_address};
use super::{Job, Step, UnderWay};
use crate::AppState;
use crate::error::PageError;
use crate::routes::swing_address;
use askama::Template;
use lessonwright_analysis::pairing::{Because, Filmed, pairs};
use lessonwright_language::{Text, filters, t, words};
use lessonwright_model::{ClipNotes, View};
use lessonwright_store::{Arrival, ArrivalState, CameBy, PlayerId, Store, Work, WorkState};
use std::collections::BTreeMap;

/// The tray of one player, or of all.
#[derive(Template)]
#[template(path = "bring_in_tray.html")]
pub struct Tray {
    /// Where its forms go.
    forms: Forms,
    /// True while it will change by itself.
    pub moves: bool,
    queue: Vec<InQueue>,
    proposed: Vec<Proposed>,
    loose: Vec<Card>,
    done: Vec<Ended>,
    players: Vec<(i64, String)>,
    /// Where the browser comes back to.
    back: String,
}

struct Forms {
    swing: String,
    apart: String,
    player: String,
    remove: String,
    again: String,
    stop: String,
    clear: String,
}

/// A swing on the queue.
struct InQueue {
    id: i64,
    player: String,
    pictures: Vec<Shown>,
    says: Text,
    /// Percent of the work on it, where it is under way.
    percent: Option<u32>,
    left: Option<Text>,
    trouble: Option<String>,
    stops: bool,
    again: bool,
}

struct Shown {
    picture: Option<String>,
    alt: Text,
}

/// Two clips that are taken for one swing.
struct Proposed {
    player: String,
    because: Text,
    first: Card,
    second: Card,
}

impl Proposed {
    fn cards(&self) -> [&Card; 2] {
        [&self.first, &self.second]
    }
}

/// One clip.
struct Card {
    id: i64,
    name: String,
    player: Option<String>,
    came: Text,
    filmed: Option<Text>,
    length: Option<Text>,
    shown: Shown,
    view: Option<View>,
    view_said: bool,
    says: Text,
    percent: Option<u32>,
    left: Option<Text>,
    trouble: Option<String>,
    warnings: Vec<String>,
    /// It can go down the road.
    ready: bool,
    again: bool,
    /// Others of the player that it could go with.
    others: Vec<(i64, String)>,
}

struct Ended {
    id: i64,
    player: String,
    swing: Option<String>,
}

/// What is left to do on one thing, and what is known of how long that takes.
struct Pace<'a> {
    paces: &'a BTreeMap<String, f64>,
    under_way: Option<&'a UnderWay>,
    /// Seconds of everything that comes first; none once one is not known.
    before_s: Option<f64>,
}

impl Step {
    /// How much work a step is on clips with these notes, in the unit that its pace is kept in.
    pub fn units(self, clips: &[&ClipNotes]) -> f64 {
        let rate = |notes: &&ClipNotes| notes.frames as f64 / notes.duration_s.max(0.01);
        match self {
            // All of the film is looked through …
            Step::Swings => clips.iter().map(|notes| notes.duration_s).sum(),
            // … but followed in the swing alone, which lasts about as long in each.
            Step::Golfer | Step::Club => clips.iter().map(rate).sum(),
            Step::Measures => 1.0,
            Step::Lesson => clips.len() as f64,
        }
    }
}

impl Pace<'_> {
    /// Seconds left of a job, and of all before it; none while a step was never timed here.
    fn left_s(&mut self, job: Job, clips: &[&ClipNotes]) -> Option<f64> {
        let steps: &[Step] = match job {
            Job::Clip(_) => &Step::OF_A_CLIP,
            Job::Swing(_) => &Step::OF_A_SWING,
        };
        let mine = self.under_way.filter(|under_way| under_way.job == job);
        let mut left_s = self.before_s;
        for &step in steps {
            let known = self
                .paces
                .get(step.key())
                .map(|pace| pace * step.units(clips));
            let of_step = match mine {
                Some(now) if step < now.step => Some(0.0),
                Some(now) if step == now.step => {
                    let since_s = now.began.elapsed().as_secs_f64();
                    match (known, now.share > 0.15) {
                        (_, true) => Some(since_s * (1.0 - now.share) / now.share),
                        (Some(all_s), false) => Some((all_s - since_s).max(0.0)),
                        (None, false) => None,
                    }
                }
                _ => known,
            };
            left_s = left_s.zip(of_step).map(|(a, b)| a + b);
        }
        self.before_s = left_s;
        left_s
    }
}

impl Tray {
    pub async fn of(
        store: &Store,
        state: &AppState,
        player: Option<PlayerId>,
        back: String,
    ) -> Result<Tray, PageError> {
        let paces = store.paces().await?;
        let names: BTreeMap<PlayerId, String> = store
            .players()
            .await?
            .into_iter()
            .map(|player| (player.id, player.facts.name))
            .collect();
        let wanted = |of: Option<PlayerId>| player.is_none() || of == player;
        let (arrivals, works) = (store.arrivals().await?, store.works().await?);
        let under_way = state.bring_in.under_way();
        let mut pace = Pace {
            paces: &paces,
            under_way: under_way.as_ref(),
            before_s: Some(0.0),
        };
        let left = lefts(&mut pace, &arrivals, &works);
        let at = At {
            state,
            names: &names,
            under_way: under_way.as_ref(),
            left: &left,
        };
        let free: Vec<&Arrival> = arrivals
            .iter()
            .filter(|arrival| arrival.work.is_none() && wanted(arrival.player))
            .collect();
        let proposed = proposed(&at, &free);
        let in_pair = |id: i64| {
            proposed
                .iter()
                .any(|pair| pair.first.id == id || pair.second.id == id)
        };
        let loose = free
            .iter()
            .filter(|arrival| !in_pair(arrival.id.0))
            .map(|arrival| at.card(arrival, &free))
            .collect();
        let (ended, queued): (Vec<&Work>, Vec<&Work>) = works
            .iter()
            .filter(|work| wanted(Some(work.player)))
            .partition(|work| work.state == WorkState::Done);
        let queue = queued.into_iter().map(|work| at.in_queue(work)).collect();
        let done = ended
            .into_iter()
            .map(|work| Ended {
                id: work.id.0,
                player: at.name(Some(work.player)).unwrap_or_default(),
                swing: work.swing.map(swing_address),
            })
            .rev()
            .collect();
        let moves = under_way.is_some()
            || arrivals
                .iter()
                .any(|a| matches!(a.state, ArrivalState::Arrived | ArrivalState::Opened))
            || works
                .iter()
                .any(|w| matches!(w.state, WorkState::Waiting | WorkState::UnderWay));
        Ok(Tray {
            forms: Forms {
                swing: post_address("swings"),
                apart: post_address("apart"),
                player: post_address("player"),
                remove: post_address("remove"),
                again: post_address("again"),
                stop: post_address("stop"),
                clear: post_address("clear"),
            },
            moves,
            queue,
            proposed,
            loose,
            done,
            players: names
                .iter()
                .map(|(id, name)| (id.0, name.clone()))
                .collect(),
            back,
        })
    }

    fn is_empty(&self) -> bool {
        self.queue.is_empty()
            && self.proposed.is_empty()
            && self.loose.is_empty()
            && self.done.is_empty()
    }
}

/// Seconds until each thing that waits is done, by what it is, in the order in which they come.
fn lefts(pace: &mut Pace<'_>, arrivals: &[Arrival], works: &[Work]) -> Vec<(Job, Option<f64>)> {
    let to_watch = |arrival: &&Arrival| arrival.state == ArrivalState::Opened;
    let is_waiting = |work: &&Work| matches!(work.state, WorkState::Waiting | WorkState::UnderWay);
    let mut jobs: Vec<(Job, Vec<&ClipNotes>)> = Vec::new();
    for work in works.iter().filter(is_waiting) {
        for arrival in work.arrivals.iter().filter(to_watch) {
            jobs.push((Job::Clip(arrival.id), arrival.notes.iter().collect()));
        }
        let all = work
            .arrivals
            .iter()
            .filter_map(|a| a.notes.as_ref())
            .collect();
        jobs.push((Job::Swing(work.id), all));
    }
    for arrival in arrivals
        .iter()
        .filter(to_watch)
        .filter(|a| a.work.is_none())
    {
        jobs.push((Job::Clip(arrival.id), arrival.notes.iter().collect()));
    }
    // What is under way comes first, whatever was asked for since.
    if let Some(now) = pace.under_way.map(|under_way| under_way.job) {
        jobs.sort_by_key(|(job, _)| *job != now);
    }
    jobs.into_iter()
        .map(|(job, clips)| (job, pace.left_s(job, &clips)))
        .collect()
}

/// What the rows are made with.
struct At<'a> {
    state: &'a AppState,
    names: &'a BTreeMap<PlayerId, String>,
    under_way: Option<&'a UnderWay>,
    left: &'a [(Job, Option<f64>)],
}

impl At<'_> {
    fn name(&self, player: Option<PlayerId>) -> Option<String> {
        player.and_then(|id| self.names.get(&id).cloned())
    }

    /// What is said of a job that is under way or waits: words, percent, time left.
    fn on_its_way(&self, job: Job) -> (Option<Text>, Option<u32>, Option<Text>) {
        let left_s = self
            .left
            .iter()
            .find(|(of, _)| *of == job)
            .and_then(|(_, left)| *left);
        let left = left_s.map(spelled);
        match self.under_way.filter(|under_way| under_way.job == job) {
            Some(now) => {
                let percent = (now.share * 100.0).round() as u32;
                (Some(now.step.says()), Some(percent), left)
            }
            None => (None, None, left),
        }
    }

    fn shown(&self, arrival: &Arrival) -> Shown {
        let there = arrival.notes.is_some();
        let view = arrival
            .view()
            .map_or_else(|| t("bring-in-a-clip"), words::view);
        Shown {
            picture: there.then(|| picture_address(arrival.id)),
            alt: t("bring-in-first-picture")
                .with("view", view)
                .with("clip", &arrival.name),
        }
    }

    fn in_queue(&self, work: &Work) -> InQueue {
        let mut of_clips = work
            .arrivals
            .iter()
            .map(|a| self.on_its_way(Job::Clip(a.id)));
        let (own_says, own_percent, left) = self.on_its_way(Job::Swing(work.id));
        let clip = of_clips.find(|(says, _, _)| says.is_some());
        let (says, percent) = match (own_says, clip) {
            (Some(says), _) => (says, own_percent),
            (None, Some((Some(says), percent, _))) => (says, percent),
            _ => (
                t(match work.state {
                    WorkState::Failed => "bring-in-went-wrong",
                    WorkState::Stopped => "bring-in-stopped",
                    _ => "bring-in-waits",
                }),
                None,
            ),
        };
        let ended = matches!(work.state, WorkState::Failed | WorkState::Stopped);
        InQueue {
            id: work.id.0,
            player: self.name(Some(work.player)).unwrap_or_default(),
            pictures: work.arrivals.iter().map(|a| self.shown(a)).collect(),
            says,
            percent,
            left: if ended { None } else { left },
            trouble: work.trouble.clone(),
            stops: !ended,
            again: ended,
        }
    }

    fn card(&self, arrival: &Arrival, free: &[&Arrival]) -> Card {
        let (says, percent, left) = self.on_its_way(Job::Clip(arrival.id));
        let says = says.unwrap_or_else(|| {
            t(match arrival.state {
                ArrivalState::Arrived => "bring-in-opening",
                ArrivalState::Opened => "bring-in-waits-look",
                ArrivalState::Watched => "bring-in-ready",
                ArrivalState::Failed => "bring-in-unusable",
                ArrivalState::Stopped => "bring-in-stopped",
            })
        });
        let usable = |a: &Arrival| matches!(a.state, ArrivalState::Opened | ArrivalState::Watched);
        let other = |a: &&&Arrival| a.id != arrival.id && a.player == arrival.player && usable(a);
        let notes = arrival.notes.as_ref();
        let came_by = match arrival.came_by {
            CameBy::Page => "bring-in-by-page",
            CameBy::Phone => "bring-in-by-phone",
            CameBy::Folder => "bring-in-by-folder",
            CameBy::Camera => "bring-in-by-camera",
            CameBy::Command => "bring-in-by-command",
        };
        Card {
            id: arrival.id.0,
            name: arrival.name.clone(),
            player: self.name(arrival.player),
            came: t(came_by).with("at", crate::pages::minute(arrival.arrived_at, self.state)),
            filmed: notes
                .and_then(|n| n.filmed_at)
                .map(|at| crate::pages::minute(at, self.state)),
            length: notes
                .map(|n| t("bring-in-seconds").with("seconds", Text::decimal(n.duration_s, 1))),
            shown: self.shown(arrival),
            view: arrival.view(),
            view_said: arrival.view_said.is_some(),
            says,
            percent,
            left: left.filter(|_| arrival.state == ArrivalState::Opened),
            trouble: arrival.trouble.clone(),
            warnings: notes.map(|n| n.warnings.clone()).unwrap_or_default(),
            ready: usable(arrival) && arrival.player.is_some(),
            again: matches!(arrival.state, ArrivalState::Failed | ArrivalState::Stopped),
            others: free
                .iter()
                .filter(other)
                .map(|a| (a.id.0, a.name.clone()))
                .collect(),
        }
    }
}

fn proposed(at: &At<'_>, free: &[&Arrival]) -> Vec<Proposed> {
    let mut of_player: BTreeMap<PlayerId, Vec<&Arrival>> = BTreeMap::new();
    for arrival in free {
        let usable = matches!(arrival.state, ArrivalState::Opened | ArrivalState::Watched);
        if let Some(player) = arrival.player.filter(|_| usable && !arrival.alone) {
            of_player.entry(player).or_default().push(arrival);
        }
    }
    let mut all = Vec::new();
    for (player, clips) in of_player {
        let filmed: Vec<Filmed> = clips.iter().map(|clip| filmed(clip)).collect();
        for pair in pairs(&filmed) {
            let [mut first, mut second] = [clips[pair.first], clips[pair.second]];
            // Face-on stands first, as everywhere.
            if second.view() == Some(View::FaceOn) || first.view() == Some(View::DownTheLine) {
                (first, second) = (second, first);
            }
            all.push(Proposed {
                player: at.name(Some(player)).unwrap_or_default(),
                because: t(match pair.because {
                    Because::SameStrikes => "bring-in-same-strikes",
                    Because::SameTime => "bring-in-same-time",
                    Because::CameTogether => "bring-in-came-together",
                }),
                first: at.card(first, &[]),
                second: at.card(second, &[]),
            });
        }
    }
    all
}

fn filmed(arrival: &Arrival) -> Filmed {
    let notes = arrival.notes.as_ref();
    Filmed {
        view: arrival.view(),
        from_s: notes
            .and_then(|n| n.filmed_at)
            .map(|at| at.as_second() as f64),
        came_s: arrival.arrived_at.as_second() as f64,
        strikes_s: notes.map(|n| n.strikes_s.clone()).unwrap_or_default(),
    }
}

/// "about 12 s", "about 3 min".
fn spelled(left_s: f64) -> Text {
    let whole = |number: f64| number.ceil() as u64;
    match left_s {
        s if s < 5.0 => t("bring-in-few-seconds"),
        s if s < 90.0 => t("bring-in-about-seconds").with("seconds", 5 * whole(s / 5.0)),
        s => t("bring-in-about-minutes").with("minutes", whole(s / 60.0)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_model::Cancel;
    use lessonwright_store::ArrivalId;
    use std::time::Instant;

    fn notes() -> ClipNotes {
        ClipNotes {
            duration_s: 4.0,
            frames: 240,
            width_px: 540,
            height_px: 960,
            filmed_at: None,
            strikes_s: Vec::new(),
            warnings: Vec::new(),
        }
    }

    #[test]
    fn time_left_is_only_told_where_every_step_was_timed_here() {
        let mut paces: BTreeMap<String, f64> = BTreeMap::new();
        let left = |paces: &BTreeMap<String, f64>| {
            let mut pace = Pace {
                paces,
                under_way: None,
                before_s: Some(3.0),
            };
            pace.left_s(Job::Clip(ArrivalId(1)), &[&notes()])
        };
        assert_eq!(left(&paces), None);
        for (step, pace) in [("swings", 0.5), ("golfer", 0.2), ("club", 0.05)] {
            paces.insert(step.to_owned(), pace);
        }
        // 3 s before it, 4 s of film at 0.5, 60 frames a second at 0.2 and at 0.05.
        let found = left(&paces).expect("all are known");
        assert!((found - (3.0 + 2.0 + 12.0 + 3.0)).abs() < 1e-9, "{found}");
    }

    #[test]
    fn a_step_under_way_is_told_by_its_own_pace() {
        let paces: BTreeMap<String, f64> = [("swings", 0.5), ("golfer", 99.0), ("club", 0.05)]
            .map(|(a, b)| (a.to_owned(), b))
            .into();
        let job = Job::Clip(ArrivalId(1));
        let under_way = UnderWay {
            job,
            step: Step::Golfer,
            share: 0.5,
            began: Instant::now() - std::time::Duration::from_secs(10),
            cancel: Cancel::default(),
        };
        let mut pace = Pace {
            paces: &paces,
            under_way: Some(&under_way),
            before_s: Some(0.0),
        };
        let found = pace.left_s(job, &[&notes()]).expect("all are known");
        // Half took 10 s; the club's 3 s follow.
        assert!((found - 13.0).abs() < 0.5, "{found}");
    }
}
