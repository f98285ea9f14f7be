//! Where in a clip's sound something was struck: sharp, broadband onsets well above what the room
//! and the people in it sound like around that time.
//!
//! Two bands are looked at in blocks of a quarter of a millisecond. An onset is a block from which
//! on both bands are far louder than they were in the tens of milliseconds before (a vowel's pulses
//! follow each other faster than that) and far louder than nearly everything in the second and a
//! half on either side (the bursts of "t" and "k" are part of talk, and hardly louder than it).
//! A clap can pass; only the picture tells it from a strike.

use crate::sound::Sound;
use lessonwright_model::Strike;
use std::f64::consts::{FRAC_1_SQRT_2, TAU};

/// Samples in a block: 0.25 ms at 48 kHz.
const BLOCK: usize = 12;
/// Lower edges of the bands, Hz. Wind, footsteps and the tone of voices lie below the first; what
/// reaches above the second is sharp. Phones' sound coders keep up to 14 kHz and more.
const BAND_EDGES_HZ: [f64; 2] = [1_000.0, 4_000.0];
/// Loudness is averaged over this long, blocks: 2 ms, as long as a strike's rise and first ring.
const LOUD_BLOCKS: usize = 8;
/// An onset is held against the loudest of a stretch that begins this long before it, blocks: 40 ms,
/// several pulses of the deepest voice (80 Hz: 12.5 ms) …
const QUIET_BLOCKS: usize = 160;
/// … and ending this long before it, blocks: 5 ms, where coders put a strike's pre-echo.
const ECHO_BLOCKS: usize = 20;
/// Least jump above those milliseconds, dB. Set between strikes (over 20) and talk (below 8) in
/// the tests' sounds.
const LEAST_JUMP_DB: f64 = 10.0;
/// Least height above the sound around, dB; set like the jump.
const LEAST_ABOVE_NOISE_DB: f64 = 12.0;
/// The sound around is taken from this long on either side, s …
const NOISE_REACH_S: f64 = 1.5;
/// … less this long, which holds the strike's own ring and echoes, s.
const NOISE_GUARD_S: f64 = 0.25;
/// Talk pauses for half of the time: a high quantile of loudness is what talk is when it sounds.
const NOISE_QUANTILE: f64 = 0.9;
/// Blocks in a sample of the sound around: 5 ms.
const NOISE_BLOCKS: usize = 20;
/// After an onset nothing is reported for this long, blocks: half a second. The ball meets a net 20
/// to 70 ms after the strike, and a far wall answers after 0.3 s; nobody strikes twice in that time.
const HOLD_BLOCKS: usize = 2_000;
/// … unless it is louder by this much, dB: then the first was a lesser sound before the strike.
const OUTDONE_DB: f64 = 12.0;

/// The strikes in a sound, in order of time. A sound too short to have noise around it has none.
pub fn strikes(sound: &Sound) -> Vec<Strike> {
    let bands = BAND_EDGES_HZ.map(|edge_hz| high_passed(sound, edge_hz));
    let loudness = bands.each_ref().map(|band| loudness_db(band));
    let noise = loudness.each_ref().map(|db| Noise::of(db));
    let count = loudness[0].len();

    let mut found: Vec<Onset> = Vec::new();
    for block in QUIET_BLOCKS..count {
        let above = [0, 1].map(|b| loudness[b][block] - noise[b].around_db(block));
        if above.iter().any(|&db| db < LEAST_ABOVE_NOISE_DB) {
            continue;
        }
        if [0, 1]
            .iter()
            .any(|&b| jump_db(&loudness[b], block) < LEAST_JUMP_DB)
        {
            continue;
        }
        let onset = Onset {
            block,
            loudness_db: peak_db(&loudness[0], block),
            above_noise_db: peak_db(&loudness[0], block) - noise[0].around_db(block),
        };
        match found.last_mut() {
            Some(last) if block < last.block + HOLD_BLOCKS => {
                if onset.loudness_db > last.loudness_db + OUTDONE_DB {
                    *last = onset;
                }
            }
            _ => found.push(onset),
        }
    }
    found
        .iter()
        .map(|onset| timed(sound, &bands[0], onset))
        .collect()
}

/// The loudest 2 ms within `reach_s` of a time from the clip's first frame, in the lower of the two
/// bands, dB of full scale; −120 where there is no sound.
pub(crate) fn loudest_db(sound: &Sound, time_s: f64, reach_s: f64) -> f64 {
    let sample = |s: f64| ((s - sound.start_s) * f64::from(sound.rate_hz)).max(0.0) as usize;
    let count = sound.samples.len();
    let range = sample(time_s - reach_s).min(count)..sample(time_s + reach_s).min(count);
    let near = Sound {
        samples: sound.samples[range].to_vec(),
        ..*sound
    };
    let band = high_passed(&near, BAND_EDGES_HZ[0]);
    // The filter starts from rest: what it makes of the cut is over in a block's run.
    let loudness = loudness_db(band.get(LOUD_BLOCKS * BLOCK..).unwrap_or(&[]));
    loudness.into_iter().fold(SILENCE_DB, f64::max)
}

struct Onset {
    block: usize,
    loudness_db: f64,
    above_noise_db: f64,
}

/// Second-order Butterworth high-pass (bilinear transform; the coefficients of R. Bristow-Johnson,
/// "Cookbook formulae for audio EQ biquad filter coefficients", with Q = 1/√2). It delays what lies
/// well above its edge by less than 0.1 ms.
fn high_passed(sound: &Sound, edge_hz: f64) -> Vec<f32> {
    let angle = TAU * edge_hz / f64::from(sound.rate_hz);
    let (sin, cos) = angle.sin_cos();
    let alpha = sin / (2.0 * FRAC_1_SQRT_2);
    let a0 = 1.0 + alpha;
    let b = [
        (1.0 + cos) / 2.0 / a0,
        -(1.0 + cos) / a0,
        (1.0 + cos) / 2.0 / a0,
    ];
    let a = [-2.0 * cos / a0, (1.0 - alpha) / a0];
    let (mut x1, mut x2, mut y1, mut y2) = (0.0, 0.0, 0.0, 0.0);
    let step = |&sample: &f32| {
        // A damaged file can hold samples that are no numbers.
        let x = if sample.is_finite() {
            f64::from(sample)
        } else {
            0.0
        };
        let y = b[0] * x + b[1] * x1 + b[2] * x2 - a[0] * y1 - a[1] * y2;
        (x2, x1, y2, y1) = (x1, x, y1, y);
        y as f32
    };
    sound.samples.iter().map(step).collect()
}

/// What digital silence counts as, dB of full scale; below any microphone's noise.
const SILENCE_DB: f64 = -120.0;

/// Loudness over [`LOUD_BLOCKS`] from each block on, dB of full scale.
fn loudness_db(band: &[f32]) -> Vec<f64> {
    let power: Vec<f64> = band
        .chunks_exact(BLOCK)
        .map(|block| block.iter().map(|&y| f64::from(y).powi(2)).sum::<f64>() / BLOCK as f64)
        .collect();
    power
        .windows(LOUD_BLOCKS)
        .map(|run| run.iter().sum::<f64>() / LOUD_BLOCKS as f64)
        .map(|mean| (10.0 * mean.log10()).max(SILENCE_DB))
        .collect()
}

/// How much louder it is from `block` on than at its loudest before.
fn jump_db(loudness_db: &[f64], block: usize) -> f64 {
    let before = &loudness_db[block - QUIET_BLOCKS..=block - ECHO_BLOCKS];
    loudness_db[block] - before.iter().copied().fold(f64::NEG_INFINITY, f64::max)
}

/// The loudest of the milliseconds after an onset: it may first be met before its height.
fn peak_db(loudness_db: &[f64], block: usize) -> f64 {
    let after = &loudness_db[block..loudness_db.len().min(block + 2 * LOUD_BLOCKS)];
    after.iter().copied().fold(f64::NEG_INFINITY, f64::max)
}

/// How loud it is around each time.
struct Noise {
    /// One every [`NOISE_BLOCKS`].
    around_db: Vec<f64>,
}

impl Noise {
    fn of(loudness_db: &[f64]) -> Noise {
        let coarse: Vec<f64> = loudness_db
            .chunks(NOISE_BLOCKS)
            .map(|chunk| chunk.iter().sum::<f64>() / chunk.len() as f64)
            .collect();
        let samples_per_s = 48_000.0 / (BLOCK * NOISE_BLOCKS) as f64;
        let reach = (NOISE_REACH_S * samples_per_s) as usize;
        let guard = (NOISE_GUARD_S * samples_per_s) as usize;
        let around = |here: usize| {
            let before = &coarse[here.saturating_sub(reach)..here.saturating_sub(guard)];
            let after = &coarse[coarse.len().min(here + guard)..coarse.len().min(here + reach)];
            let mut both = [before, after].concat();
            if both.is_empty() {
                return f64::INFINITY;
            }
            let place = (NOISE_QUANTILE * (both.len() - 1) as f64) as usize;
            *both.select_nth_unstable_by(place, f64::total_cmp).1
        };
        Noise {
            around_db: (0..coarse.len()).map(around).collect(),
        }
    }

    fn around_db(&self, block: usize) -> f64 {
        self.around_db[block / NOISE_BLOCKS]
    }
}

/// The step is sought this long from an onset's block on, samples: 10 ms. A coder's pre-echo can be
/// what was noticed first, up to 6 ms before; echoes from a net come later than 20 ms.
const STEP_SEARCH_SAMPLES: usize = 480;
/// Power before and after a step is compared over this long, samples: 1.5 ms.
const STEP_SAMPLES: usize = 72;
/// Half-width of the 95 % interval, s: nineteen of twenty strikes in the tests' sounds, through the
/// sound coders of phones, lie within it.
const PLUS_MINUS_S: f64 = 0.001;

/// Times an onset to the sample: where the power after less the power before is greatest. The
/// difference, unlike a ratio, makes little of a coder's pre-echo, which is 10 dB and more below.
fn timed(sound: &Sound, band: &[f32], onset: &Onset) -> Strike {
    let from = (onset.block * BLOCK).saturating_sub(STEP_SAMPLES);
    let run = &band[from..band
        .len()
        .min(from + 3 * STEP_SAMPLES + STEP_SEARCH_SAMPLES)];
    let mut sum = 0.0;
    let sums: Vec<f64> = run
        .iter()
        .map(|&y| {
            sum += f64::from(y).powi(2);
            sum
        })
        .collect();
    let step = |n: usize| sums[n + STEP_SAMPLES] - 2.0 * sums[n] + sums[n - STEP_SAMPLES];
    let highest = (STEP_SAMPLES..sums.len().saturating_sub(STEP_SAMPLES))
        .max_by(|&a, &b| step(a).total_cmp(&step(b)));
    // A sum holds its own sample: the first after the step is the next.
    let first = from + highest.map_or(STEP_SAMPLES, |n| n + 1);
    Strike {
        time_s: sound.time_s(first as f64),
        plus_minus_s: PLUS_MINUS_S,
        above_noise_db: onset.above_noise_db,
    }
}
