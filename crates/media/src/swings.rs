//! Where in a clip somebody swings: short bursts of fast motion with calm before and after, and a
//! strike heard at the burst.

use crate::error::MediaError;
use crate::motion::{FastMotion, SPACING_S, fast_motion};
use crate::probe::Clip;
use crate::sound::{Sound, sound};
use crate::strikes::{loudest_db, strikes};
use crate::tools::Tools;
use lessonwright_model::{Cancel, ClipFacts, Strike, SwingWindow};

/// Kept before impact, real s. A slow back-swing and down-swing take 1.9 s together (5.8 × 0.27 s,
/// the 95th percentile of GolfDB, McNally et al. 2019), and address must be seen before them.
const BEFORE_IMPACT_S: f64 = 2.3;
/// Kept after impact, real s: the follow-through to rest takes about a second.
const AFTER_IMPACT_S: f64 = 1.3;
/// A clip no longer than this holds one swing and is taken whole, real s.
const SHORT_CLIP_S: f64 = 4.5;
/// A clip shorter than this can hold none: back-swing and down-swing take 0.9 s and more, real s.
const LEAST_CLIP_S: f64 = 0.8;

/// The swings of a clip, in order of time; empty if nothing in it moves like one. A clip of up to
/// 4.5 s of real time is taken to be one swing and gives one window over all of it. Where a swing is
/// heard to strike, those that are quiet (practice swings) are left out. `progress` is
/// given parts of 1.
///
/// # Errors
/// [`MediaError`] from decoding, and on cancel.
pub fn find_swings(
    tools: &Tools,
    clip: &Clip,
    progress: &mut dyn FnMut(f64),
    cancel: &Cancel,
) -> Result<Vec<SwingWindow>, MediaError> {
    let heard = Heard::of(tools, clip, cancel)?;
    if let Some(window) = heard.short_clip(&clip.facts) {
        progress(1.0);
        return Ok(vec![window]);
    }
    let motion = fast_motion(tools, clip, progress, cancel)?;
    progress(1.0);
    Ok(windows(&clip.facts, &motion, &heard))
}

/// Slow motion that was written slowly carries no sound or one that is stretched with it: a
/// stretched onset is no longer sharp, so sound is used in real time only. The phone's clock and
/// a stated rate may differ by this part.
const REAL_TIME_PART: f64 = 0.05;

/// The sound of a clip in real time, and the strikes in it.
#[derive(Default)]
struct Heard {
    sound: Option<Sound>,
    strikes: Vec<Strike>,
}

impl Heard {
    fn of(tools: &Tools, clip: &Clip, cancel: &Cancel) -> Result<Heard, MediaError> {
        if (clip.facts.real_seconds_per_file_second() - 1.0).abs() > REAL_TIME_PART {
            return Ok(Heard::default());
        }
        let sound = sound(tools, clip, cancel)?;
        let strikes = sound.as_ref().map_or_else(Vec::new, strikes);
        Ok(Heard { sound, strikes })
    }

    /// The loudest strike near a time.
    fn strike_near(&self, time_s: f64) -> Option<Strike> {
        let near = |strike: &&Strike| (strike.time_s - time_s).abs() <= STRIKE_REACH_S;
        let near = self.strikes.iter().filter(near);
        near.max_by(|a, b| a.above_noise_db.total_cmp(&b.above_noise_db))
            .copied()
    }

    /// A short clip in which a strike is heard: its one window, without decoding a picture.
    fn short_clip(&self, facts: &ClipFacts) -> Option<SwingWindow> {
        let length_s = facts.duration_s * facts.real_seconds_per_file_second();
        if !(LEAST_CLIP_S..=SHORT_CLIP_S).contains(&length_s) {
            return None;
        }
        let strike = self.loudest_from(LEAST_CLIP_S)?;
        Some(SwingWindow {
            start_s: 0.0,
            end_s: facts.duration_s,
            impact_guess_s: strike.time_s,
            strike: Some(strike),
        })
    }

    /// The loudest strike not before a time.
    fn loudest_from(&self, time_s: f64) -> Option<Strike> {
        let late = self.strikes.iter().filter(|strike| strike.time_s >= time_s);
        late.max_by(|a, b| a.above_noise_db.total_cmp(&b.above_noise_db))
            .copied()
    }

    fn loudest_db(&self, time_s: f64) -> f64 {
        let sound = self.sound.as_ref();
        sound.map_or(f64::NEG_INFINITY, |sound| {
            loudest_db(sound, time_s, STRIKE_REACH_S)
        })
    }
}

fn windows(facts: &ClipFacts, motion: &FastMotion, heard: &Heard) -> Vec<SwingWindow> {
    let real = facts.real_seconds_per_file_second();
    let length_s = facts.duration_s * real;
    if length_s < LEAST_CLIP_S {
        return Vec::new();
    }
    let smooth = smoothed(&motion.amount);
    if length_s <= SHORT_CLIP_S {
        let strongest = strongest(&smooth);
        let strike = heard.strike_near(strongest.time_s / real);
        return vec![SwingWindow {
            start_s: 0.0,
            end_s: facts.duration_s,
            impact_guess_s: strike.map_or(strongest.time_s / real, |strike| strike.time_s),
            strike,
        }];
    }
    let mut swings: Vec<(Burst, Option<Strike>)> = bursts(&motion.amount, &smooth)
        .into_iter()
        .map(|burst| (burst, heard.strike_near(burst.time_s / real)))
        .collect();
    leave_out_practice(&mut swings, heard, real);
    let window = |(burst, strike): &(Burst, Option<Strike>)| {
        let impact_s = strike.map_or(burst.time_s / real, |strike| strike.time_s);
        SwingWindow {
            start_s: (impact_s - BEFORE_IMPACT_S / real).max(0.0),
            end_s: (impact_s + AFTER_IMPACT_S / real).min(facts.duration_s),
            impact_guess_s: impact_s,
            strike: *strike,
        }
    };
    swings.iter().map(window).collect()
}

/// One player's strikes in one clip differ less than this in loudness, dB; a practice swing that
/// brushes the mat is quieter.
const STRIKES_DIFFER_DB: f64 = 15.0;

/// Where strikes are heard, drops the swings that are quiet. A swing under talk or wind, whose strike
/// could not be told from them, stays.
fn leave_out_practice(swings: &mut Vec<(Burst, Option<Strike>)>, heard: &Heard, real: f64) {
    let loudness = |burst: &Burst| heard.loudest_db(burst.time_s / real);
    let struck = swings.iter().filter(|(_, strike)| strike.is_some());
    let Some(strike_db) = struck.map(|(burst, _)| loudness(burst)).reduce(f64::max) else {
        return;
    };
    swings.retain(|(burst, strike)| {
        strike.is_some() || loudness(burst) >= strike_db - STRIKES_DIFFER_DB
    });
}

/// The fast part of a swing lasts from the middle of the down-swing (0.15 s before impact) into
/// the follow-through. Half of the span that motion is averaged over, samples: 0.1 s.
const HALF_BURST: usize = 3;
/// Strikes this far from the middle of a burst belong to it, s: as long as a down-swing.
const STRIKE_REACH_S: f64 = 0.3;

/// A short stretch of fast motion.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Burst {
    /// Its middle, real s.
    time_s: f64,
    amount: f64,
}

fn smoothed(amount: &[f64]) -> Vec<f64> {
    let mean = |i: usize| {
        let run = &amount[i.saturating_sub(HALF_BURST)..amount.len().min(i + HALF_BURST + 1)];
        run.iter().sum::<f64>() / (2 * HALF_BURST + 1) as f64
    };
    (0..amount.len()).map(mean).collect()
}

fn strongest(smooth: &[f64]) -> Burst {
    let at = (0..smooth.len()).max_by(|&i, &j| smooth[i].total_cmp(&smooth[j]));
    burst_at(smooth, at.unwrap_or(0))
}

fn burst_at(smooth: &[f64], i: usize) -> Burst {
    Burst {
        time_s: i as f64 * SPACING_S,
        amount: smooth.get(i).copied().unwrap_or(0.0),
    }
}

/// Least fast motion of a swing, grey levels a pixel. A player half as high as a picture that lies on
/// its side, of ordinary contrast, gives 0.2.
const LEAST_AMOUNT: f64 = 0.03;
/// A swing's burst stands out this many times from the motion before it, which holds the back-swing,
/// and after it. Set between swings (over 5 and over 100) and walking or waving (below 2.5 or below
/// 3.2) in the tests' scenes.
const BEFORE_CONTRAST: f64 = 3.0;
const AFTER_CONTRAST: f64 = 4.0;
/// Where that motion is looked for, s from the burst's middle: from address into the back-swing,
/// and from the finish on.
const CALM_BEFORE_S: (f64, f64) = (-1.8, -0.45);
const CALM_AFTER_S: (f64, f64) = (0.9, 1.9);
/// One player's swings in one clip differ less than this in fast motion.
const LEAST_OF_STRONGEST: f64 = 0.35;
/// Nobody swings twice within this time, s; the weaker of two is a part of the stronger.
const APART_S: f64 = 2.0;

fn bursts(amount: &[f64], smooth: &[f64]) -> Vec<Burst> {
    let apart = (APART_S / SPACING_S) as usize;
    let mut found: Vec<Burst> = (0..smooth.len())
        .filter(|&i| {
            let around = &smooth[i.saturating_sub(apart)..smooth.len().min(i + apart + 1)];
            let top = around.iter().copied().fold(0.0, f64::max);
            // Of equal neighbours the first is the top.
            smooth[i] >= top && (i == 0 || smooth[i - 1] < smooth[i])
        })
        .filter(|&i| {
            let [before, after] =
                [CALM_BEFORE_S, CALM_AFTER_S].map(|span| mean_within(amount, i, span));
            let least = (BEFORE_CONTRAST * before).max(AFTER_CONTRAST * after);
            smooth[i] >= LEAST_AMOUNT.max(least)
        })
        .map(|i| burst_at(smooth, i))
        .collect();
    let strongest = found.iter().map(|burst| burst.amount).fold(0.0, f64::max);
    found.retain(|burst| burst.amount >= LEAST_OF_STRONGEST * strongest);
    found
}

/// Mean over a span of seconds from sample `i`, as far as the clip reaches; 0 beyond it.
fn mean_within(amount: &[f64], i: usize, (from_s, to_s): (f64, f64)) -> f64 {
    let at = |offset_s: f64| {
        let place = i as f64 + offset_s / SPACING_S;
        (place.round().max(0.0) as usize).min(amount.len())
    };
    let run = &amount[at(from_s)..at(to_s)];
    run.iter().sum::<f64>() / run.len().max(1) as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_model::RateSource;

    fn facts(duration_s: f64) -> ClipFacts {
        ClipFacts {
            name: "short.mp4".into(),
            codec: "h264".into(),
            bit_depth: 8,
            width_px: 540,
            height_px: 960,
            rotation_deg: 0,
            frame_times_s: Vec::new(),
            rate_hz: 60.0,
            variable_rate: false,
            capture_rate_hz: 60.0,
            capture_rate_source: RateSource::Container,
            duration_s,
            has_sound: true,
        }
    }

    #[test]
    fn in_a_short_clip_the_strike_tells_without_a_look_at_the_picture() {
        let strike = |time_s, above_noise_db| Strike {
            time_s,
            plus_minus_s: 0.001,
            above_noise_db,
        };
        let heard = Heard {
            sound: None,
            // A click as the camera starts, and the ball.
            strikes: vec![strike(0.1, 40.0), strike(1.87, 30.0)],
        };
        let found = heard.short_clip(&facts(2.6)).unwrap();
        assert_eq!(found.strike.map(|s| s.time_s), Some(1.87));
        assert_eq!((found.start_s, found.end_s), (0.0, 2.6));
        assert!(heard.short_clip(&facts(60.0)).is_none());
        assert!(Heard::default().short_clip(&facts(2.6)).is_none());
    }
}
