//! Which frame of each clip is shown when.
//!
//! The first clip sets the pace. A second one, filmed by another phone or of another swing, is followed in step: between
//! two moments that both have, its time runs evenly from the one to the other.

use lessonwright_model::MomentName;

/// Pictures a second of the film: what every phone plays.
pub const RATE_HZ: u32 = 30;

/// How much slower than life the film runs away from the moments and near them, and how near that is. By eye: a
/// downswing of a quarter of a second takes one and a half.
const PACE: f64 = 0.5;
const PACE_NEAR: f64 = 0.17;
const NEAR_S: f64 = 0.12;

/// How long the film stands still at a moment, and at the one that the lesson is about, s. Long enough to read the
/// words under it (by eye).
const HOLD_S: f64 = 1.2;
const LONG_HOLD_S: f64 = 2.8;

/// What is shown before the first moment and after the last, real s.
const BEFORE_S: f64 = 0.4;
const AFTER_S: f64 = 0.4;

/// One clip.
#[derive(Clone, Debug, PartialEq)]
pub struct Watched {
    /// Time of each frame, real s from the first.
    pub frame_times_s: Vec<f64>,
    /// The moments found in it, in their order: name, real s.
    pub moments: Vec<(MomentName, f64)>,
}

/// A moment at which the film stands still.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Held {
    /// Which.
    pub moment: MomentName,
    /// True where the lesson is about it.
    pub long: bool,
}

/// One picture of the film.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// The frame of each clip, from 0.
    pub frames: Vec<usize>,
    /// The moment at which the film stands or which it is near, as a place in the list of those held.
    pub near: Option<usize>,
}

/// The whole film.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plan {
    /// Its pictures, [`Plan::RATE_HZ`] a second.
    pub shown: Vec<Shown>,
}

impl Plan {
    /// Pictures a second.
    pub const RATE_HZ: u32 = RATE_HZ;

    /// The film of one clip or of two in step. It lasts at least `shortest_s`: the last picture stands until then.
    /// Only moments that every clip has are held. `None` where a clip has no frames, or the clips share no moment.
    pub fn of(clips: &[Watched], held: &[Held], shortest_s: f64) -> Option<Plan> {
        let (lead, _) = clips.split_first()?;
        if clips.iter().any(|clip| clip.frame_times_s.is_empty()) {
            return None;
        }
        let knots = lead.shared_with(clips);
        let shared = |wanted| knots.iter().any(|(name, _)| *name == wanted);
        let (first, last) = (knots.first()?.1, knots.last()?.1);
        let stops: Vec<Stop> = held
            .iter()
            .enumerate()
            .filter(|(_, h)| shared(h.moment))
            .filter_map(|(place, h)| Some(Stop::new(place, lead.time_of(h.moment)?, h.long)))
            .collect();
        let frames = |time_s: f64| -> Vec<usize> {
            let of = |clip: &Watched| clip.frame_at(clip.in_step(&knots, time_s));
            clips.iter().map(of).collect()
        };
        let mut shown = Vec::new();
        let mut now = (first - BEFORE_S).max(lead.frame_times_s[0]);
        let end = (last + AFTER_S).min(*lead.frame_times_s.last()?);
        let mut coming = stops.iter().peekable();
        while now <= end {
            while let Some(stop) = coming.next_if(|stop| stop.at_s <= now) {
                let still = Shown {
                    frames: frames(stop.at_s),
                    near: Some(stop.place),
                };
                let count = (stop.hold_s * f64::from(RATE_HZ)) as usize;
                shown.extend(std::iter::repeat_n(still, count));
            }
            let near = stops.iter().find(|stop| (now - stop.at_s).abs() < NEAR_S);
            shown.push(Shown {
                frames: frames(now),
                near: near.map(|stop| stop.place),
            });
            let pace = if near.is_some() { PACE_NEAR } else { PACE };
            now += pace / f64::from(RATE_HZ);
        }
        let wanted = (shortest_s * f64::from(RATE_HZ)).ceil() as usize;
        let end = shown.last()?.clone();
        shown.resize(wanted.max(shown.len()), end);
        Some(Plan { shown })
    }

    /// The film of what was looked at while somebody spoke: the clip `lead` shows the frame of the last of `looked` (time since
    /// the beginning, s, and frame), the others are in step with it. `None` where a clip has no frames, the clips share no
    /// moment, or nothing was looked at.
    pub fn spoken(
        clips: &[Watched],
        held: &[MomentName],
        lead: usize,
        looked: &[(f64, usize)],
        duration_s: f64,
    ) -> Option<Plan> {
        let leading = clips.get(lead)?;
        if clips.iter().any(|clip| clip.frame_times_s.is_empty()) || looked.is_empty() {
            return None;
        }
        let knots = leading.shared_with(clips);
        if knots.is_empty() {
            return None;
        }
        let last = leading.frame_times_s.len() - 1;
        let pictures = (duration_s * f64::from(RATE_HZ)).ceil().max(1.0) as usize;
        let shown = (0..pictures).map(|number| {
            let now_s = number as f64 / f64::from(RATE_HZ);
            let before = looked.partition_point(|(at_s, _)| *at_s <= now_s);
            let frame = looked[before.saturating_sub(1)].1.min(last);
            let time_s = leading.frame_times_s[frame];
            let is_near = |name: &MomentName| {
                leading
                    .time_of(*name)
                    .is_some_and(|at| (time_s - at).abs() < NEAR_S)
            };
            Shown {
                frames: clips
                    .iter()
                    .map(|clip| clip.frame_at(clip.in_step(&knots, time_s)))
                    .collect(),
                near: held.iter().position(is_near),
            }
        });
        Some(Plan {
            shown: shown.collect(),
        })
    }

    /// The same with no more than `most` frames of each clip: between those kept the nearest before is shown.
    pub fn thinned(mut self, most: usize) -> Plan {
        let clips = self.shown.first().map_or(0, |shown| shown.frames.len());
        for clip in 0..clips {
            let mut frames: Vec<usize> = self.shown.iter().map(|s| s.frames[clip]).collect();
            frames.sort_unstable();
            frames.dedup();
            let step = frames.len().div_ceil(most.max(1));
            for shown in &mut self.shown {
                let place = frames.partition_point(|frame| *frame < shown.frames[clip]);
                shown.frames[clip] = frames[place - place % step];
            }
        }
        self
    }

    /// How long the film lasts, s.
    pub fn duration_s(&self) -> f64 {
        self.shown.len() as f64 / f64::from(RATE_HZ)
    }
}

struct Stop {
    place: usize,
    at_s: f64,
    hold_s: f64,
}

impl Stop {
    fn new(place: usize, at_s: f64, long: bool) -> Stop {
        Stop {
            place,
            at_s,
            hold_s: if long { LONG_HOLD_S } else { HOLD_S },
        }
    }
}

impl Watched {
    fn time_of(&self, name: MomentName) -> Option<f64> {
        let mut moments = self.moments.iter();
        moments.find(|(n, _)| *n == name).map(|(_, at)| *at)
    }

    /// This clip's moments that all clips have.
    fn shared_with(&self, clips: &[Watched]) -> Vec<(MomentName, f64)> {
        let all_have = |name| clips.iter().all(|clip| clip.time_of(name).is_some());
        let moments = self.moments.iter().copied();
        moments.filter(|(name, _)| all_have(*name)).collect()
    }

    /// The time in this clip that is in step with `time_s` of the one whose shared moments are `knots`.
    fn in_step(&self, knots: &[(MomentName, f64)], time_s: f64) -> f64 {
        let mine = |knot: &(MomentName, f64)| self.time_of(knot.0).expect("a knot is shared");
        let after = knots.partition_point(|(_, at)| *at <= time_s);
        if after == 0 {
            return mine(&knots[0]) + time_s - knots[0].1;
        }
        let before = &knots[after - 1];
        let Some(next) = knots.get(after) else {
            return mine(before) + time_s - before.1;
        };
        let share = (time_s - before.1) / (next.1 - before.1);
        mine(before) + share * (mine(next) - mine(before))
    }

    /// The frame nearest to a time.
    fn frame_at(&self, time_s: f64) -> usize {
        let times = &self.frame_times_s;
        let after = times.partition_point(|t| *t < time_s).min(times.len() - 1);
        let before = after.saturating_sub(1);
        if time_s - times[before] < times[after] - time_s {
            before
        } else {
            after
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use MomentName::{Address, Finish, Impact, Top};

    fn clip(rate_hz: f64, frames: usize, moments: [(MomentName, f64); 4]) -> Watched {
        Watched {
            frame_times_s: (0..frames).map(|n| n as f64 / rate_hz).collect(),
            moments: moments.to_vec(),
        }
    }

    fn held(moment: MomentName, long: bool) -> Held {
        Held { moment, long }
    }

    /// One clip at 60 a second, one at 240 that begins later and whose swing is slower going back.
    fn two() -> [Watched; 2] {
        [
            clip(
                60.0,
                200,
                [(Address, 1.0), (Top, 1.8), (Impact, 2.05), (Finish, 2.6)],
            ),
            clip(
                240.0,
                900,
                [(Address, 0.5), (Top, 1.5), (Impact, 1.77), (Finish, 2.4)],
            ),
        ]
    }

    #[test]
    fn both_clips_stand_at_the_same_moment() {
        let clips = two();
        let all = [Address, Top, Impact, Finish].map(|m| held(m, m == Top));
        let plan = Plan::of(&clips, &all, 0.0).unwrap();
        for (place, (name, at)) in clips[0].moments.iter().enumerate() {
            let other = clips[1].time_of(*name).unwrap();
            let wanted = vec![clips[0].frame_at(*at), clips[1].frame_at(other)];
            let still = plan
                .shown
                .iter()
                .filter(|s| s.near == Some(place) && s.frames == wanted)
                .count();
            let least = if *name == Top { LONG_HOLD_S } else { HOLD_S };
            assert!(still as f64 >= least * 30.0 - 1.0, "{name:?}: {still}");
        }
    }

    #[test]
    fn no_clip_ever_runs_backwards_and_each_is_where_the_other_is() {
        let clips = two();
        let plan = Plan::of(&clips, &[held(Top, true)], 0.0).unwrap();
        for pair in plan.shown.windows(2) {
            assert!(
                pair[0]
                    .frames
                    .iter()
                    .zip(&pair[1].frames)
                    .all(|(a, b)| a <= b)
            );
        }
        // Half way from address to the top in the one is half way in the other, to a frame of the slower clip.
        let half = plan.shown.iter().find(|s| s.frames[0] == 84).unwrap();
        assert!((half.frames[1] as f64 / 240.0 - 1.0).abs() < 1.0 / 60.0);
    }

    #[test]
    fn a_voice_that_is_longer_than_the_film_is_heard_to_its_end() {
        let short = Plan::of(&two(), &[], 0.0).unwrap();
        let long = Plan::of(&two(), &[], 30.0).unwrap();
        assert!(short.duration_s() < 10.0 && long.duration_s() == 30.0);
        assert_eq!(long.shown.last(), short.shown.last());
    }

    #[test]
    fn what_was_looked_at_is_shown_when_it_was_also_backwards() {
        let clips = two();
        let looked = [(0.0, 60), (1.0, 108), (2.5, 60), (3.0, 123)];
        let plan = Plan::spoken(&clips, &[Address, Top], 0, &looked, 4.0).unwrap();
        assert_eq!(plan.shown.len(), 120);
        for (number, lead, near) in [
            (0, 60, Some(0)),
            (29, 60, Some(0)),
            (30, 108, Some(1)),
            (75, 60, Some(0)),
            (119, 123, None),
        ] {
            let shown = &plan.shown[number];
            assert_eq!((shown.frames[0], shown.near), (lead, near), "{number}");
        }
        // The other clip stands at the same moments: address at 0.5 s and the top at 1.5 s of 240 frames a second.
        assert_eq!([0, 30].map(|n| plan.shown[n].frames[1]), [120, 360]);
    }

    #[test]
    fn a_thinned_film_needs_few_frames_and_is_never_far_off() {
        let looked: Vec<(f64, usize)> = (0..200).map(|n| (n as f64 / 30.0, n)).collect();
        let clip = &two()[..1];
        let plan = Plan::spoken(clip, &[], 0, &looked, 200.0 / 30.0).unwrap();
        let thin = plan.clone().thinned(50);
        let mut frames: Vec<usize> = thin.shown.iter().map(|s| s.frames[0]).collect();
        frames.dedup();
        assert!(frames.len() <= 50, "{}", frames.len());
        for (all, few) in plan.shown.iter().zip(&thin.shown) {
            assert!(all.frames[0] - few.frames[0] < 4);
        }
        assert_eq!(plan.clone().thinned(500), plan);
    }

    #[test]
    fn without_a_shared_moment_or_a_frame_there_is_no_film() {
        let [a, mut b] = two();
        b.moments.clear();
        assert_eq!(Plan::of(&[a.clone(), b], &[], 0.0), None);
        let nothing = Watched {
            frame_times_s: vec![],
            ..a
        };
        assert_eq!(Plan::of(&[nothing], &[], 0.0), None);
        assert_eq!(Plan::of(&[], &[], 0.0), None);
    }
}
