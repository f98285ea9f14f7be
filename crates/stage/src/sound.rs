//! What the phone's microphone records: the strike after its travel, the swing's rush of air, the
//! room.
//!
//! Mono, 48 kHz. Sound travels at 343 m/s (dry air at 20 °C). The strike is a click of decaying
//! tones whose pitches and decays were made up to sound like an iron or a driver; nothing is
//! measured from it but its beginning.

use crate::camera::Camera;
use crate::motion::Movement;
use crate::noise::SplitMix64;
use crate::params::{ClubKind, Place, SwingParams};

/// Speed of sound in dry air at 20 °C, m/s.
pub const SPEED_OF_SOUND: f64 = 343.0;
/// Samples a second.
pub const SAMPLE_RATE_HZ: u32 = 48_000;

/// Keeps the sound's draws apart from those of the same seed elsewhere.
const SOUND_STREAM: u64 = 0x736f_756e_6400;

/// When the strike's sound reaches the microphone, s from the clip's first frame.
pub fn strike_time_s(params: &SwingParams, motion: &dyn Movement, camera: &Camera) -> f64 {
    let travel_m = camera.position.distance(motion.ball());
    params.before_s + motion.key_times().impact + travel_m / SPEED_OF_SOUND
}

/// The sound track of a clip, each sample in −1…1.
pub fn sound_track(
    params: &SwingParams,
    motion: &dyn Movement,
    camera: &Camera,
    length_s: f64,
) -> Vec<f32> {
    let count = (length_s * f64::from(SAMPLE_RATE_HZ)).ceil() as usize;
    let mut random = SplitMix64::new(params.seed ^ SOUND_STREAM);
    let mut track = room_noise(params, count, &mut random);
    let distance = camera.position.distance(motion.ball());
    add_rush(
        &mut track,
        params,
        motion,
        distance / SPEED_OF_SOUND,
        &mut random,
    );
    let strike_s = strike_time_s(params, motion, camera);
    add_strike(&mut track, params, strike_s, &mut random);
    if params.scene.place == Place::Studio {
        // The ball meets the screen 3.3 m on, at about 50 m/s.
        add_thud(
            &mut track,
            strike_s + 3.3 / 50.0 + 0.006,
            0.30 * params.sound.strike,
            &mut random,
        );
    }
    track
}

/// A sound track as a 16-bit WAV file.
pub fn wav_bytes(track: &[f32]) -> Vec<u8> {
    let data_len = 2 * track.len() as u32;
    let mut out = Vec::with_capacity(44 + data_len as usize);
    out.extend(b"RIFF");
    out.extend((36 + data_len).to_le_bytes());
    out.extend(b"WAVEfmt ");
    out.extend(16u32.to_le_bytes());
    // PCM, one channel.
    out.extend(1u16.to_le_bytes());
    out.extend(1u16.to_le_bytes());
    out.extend(SAMPLE_RATE_HZ.to_le_bytes());
    out.extend((2 * SAMPLE_RATE_HZ).to_le_bytes());
    out.extend(2u16.to_le_bytes());
    out.extend(16u16.to_le_bytes());
    out.extend(b"data");
    out.extend(data_len.to_le_bytes());
    for &sample in track {
        let value = (sample.clamp(-1.0, 1.0) * f32::from(i16::MAX)).round() as i16;
        out.extend(value.to_le_bytes());
    }
    out
}

fn room_noise(params: &SwingParams, count: usize, random: &mut SplitMix64) -> Vec<f32> {
    let level = params.sound.noise;
    let outdoors = params.scene.place == Place::Range;
    // Two one-pole filters give a rumbling part and a hissing part.
    let (mut slow, mut slower) = (0.0f64, 0.0f64);
    (0..count)
        .map(|i| {
            let t = i as f64 / f64::from(SAMPLE_RATE_HZ);
            let white = random.between(-1.0, 1.0);
            slow += 0.05 * (white - slow);
            slower += 0.004 * (white - slower);
            // Outdoors wind comes in gusts; indoors mains hum and its third overtone stay.
            let rest = if outdoors {
                slower * 22.0 * (0.6 + 0.4 * (0.9 * t).sin())
            } else {
                let mains = (std::f64::consts::TAU * 50.0 * t).sin();
                let overtone = (std::f64::consts::TAU * 150.0 * t).sin();
                slower * 8.0 + 0.5 * mains + 0.3 * overtone
            };
            (level * (0.5 * white + 3.0 * slow + rest)) as f32
        })
        .collect()
}

/// The club head's rush of air grows with a high power of its speed.
fn add_rush(
    track: &mut [f32],
    params: &SwingParams,
    motion: &dyn Movement,
    delay_s: f64,
    random: &mut SplitMix64,
) {
    const STEP_S: f64 = 0.001;
    let speed = |t: f64| {
        let head = |t: f64| motion.pose(t).club.head;
        head(t + 0.5 * STEP_S).distance(head(t - 0.5 * STEP_S)) / STEP_S
    };
    let keys = *motion.key_times();
    let from = params.before_s + delay_s;
    let rate = f64::from(SAMPLE_RATE_HZ);
    let (first, last) = (keys.top + from, keys.arm_level_through + from);
    let samples = (first * rate) as usize..((last * rate) as usize).min(track.len());
    let (mut low, mut lower) = (0.0f64, 0.0f64);
    let mut loudness = 0.0;
    for i in samples {
        if i % 48 == 0 {
            loudness = (speed(i as f64 / rate - from) / 45.0).powi(3);
        }
        let white = random.between(-1.0, 1.0);
        low += 0.12 * (white - low);
        lower += 0.03 * (low - lower);
        track[i] += (0.16 * params.sound.strike * loudness * (low - lower)) as f32;
    }
}

fn add_strike(track: &mut [f32], params: &SwingParams, at_s: f64, random: &mut SplitMix64) {
    // Pitch, share and decay time of the tones.
    let tones: &[(f64, f64, f64)] = match params.club.kind {
        ClubKind::Iron => &[
            (1_450.0, 0.35, 0.006),
            (2_700.0, 0.30, 0.005),
            (4_300.0, 0.20, 0.0035),
            (6_900.0, 0.12, 0.002),
        ],
        ClubKind::Driver => &[
            (2_900.0, 0.30, 0.022),
            (3_850.0, 0.25, 0.030),
            (5_400.0, 0.20, 0.012),
            (8_100.0, 0.12, 0.004),
        ],
    };
    let phases: Vec<f64> = tones.iter().map(|_| random.between(0.8, 1.6)).collect();
    let pulse = |t: f64, noise: f64| {
        let ring: f64 = tones
            .iter()
            .zip(&phases)
            .map(|(&(pitch, share, decay), phase)| {
                share * (std::f64::consts::TAU * pitch * t + phase).sin() * (-t / decay).exp()
            })
            .sum();
        ring + 0.55 * noise * (-t / 0.0012).exp()
    };
    // Echoes: delay, strength. Outdoors only the ground's.
    let echoes: &[(f64, f64)] = match params.scene.place {
        Place::Studio => &[
            (0.0, 1.0),
            (0.0062, 0.42),
            (0.0094, -0.36),
            (0.0141, 0.30),
            (0.0193, 0.24),
            (0.0274, -0.19),
            (0.0381, 0.14),
            (0.0532, 0.10),
        ],
        Place::Range => &[(0.0, 1.0), (0.0021, 0.22), (0.31, 0.02)],
    };
    for &(delay, strength) in echoes {
        add(track, at_s + delay, 0.09, |t| {
            params.sound.strike * strength * pulse(t, random.between(-1.0, 1.0))
        });
    }
}

fn add_thud(track: &mut [f32], at_s: f64, peak: f64, random: &mut SplitMix64) {
    let mut low = 0.0;
    add(track, at_s, 0.25, |t| {
        low += 0.02 * (random.between(-1.0, 1.0) - low);
        let boom = (std::f64::consts::TAU * 95.0 * t).sin() * (-t / 0.05).exp();
        peak * (0.7 * boom + 6.0 * low * (-t / 0.03).exp())
    });
}

/// Adds a sound that begins at a time, sampled from its own beginning.
fn add(track: &mut [f32], at_s: f64, length_s: f64, mut sound: impl FnMut(f64) -> f64) {
    let rate = f64::from(SAMPLE_RATE_HZ);
    let first = (at_s * rate).ceil().max(0.0) as usize;
    let last = (((at_s + length_s) * rate) as usize).min(track.len());
    for (i, sample) in track.iter_mut().enumerate().take(last).skip(first) {
        *sample += sound(i as f64 / rate - at_s) as f32;
    }
}
