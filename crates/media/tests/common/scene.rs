//! A range made for the tests: somebody talks, walks, waggles and swings before a still camera, as
//! small raw pictures, with the sound of it. Drawn from capsules; golf only as far as motion and
//! sound go.

use std::f64::consts::{PI, TAU};

/// Noise from a seed, even in −1..1 (Steele et al., "Fast splittable pseudorandom number
/// generators", 2014: SplitMix64).
pub struct Noise(pub u64);

impl Noise {
    pub fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (z ^ (z >> 31)) as f64 / u64::MAX as f64 * 2.0 - 1.0
    }
}

pub const RATE_HZ: f64 = 48_000.0;

/// Silence but for the microphone's own noise.
pub fn quiet(length_s: f64, seed: u64) -> Vec<f64> {
    let mut noise = Noise(seed);
    (0..(length_s * RATE_HZ) as usize)
        .map(|_| 0.000_5 * noise.next())
        .collect()
}

/// Adds talk: voiced syllables (pulses of a 110 Hz voice through three resonances, values of an
/// open vowel) and before each a burst of noise as of a "t", 4 syllables a second.
pub fn add_talk(sound: &mut [f64], from_s: f64, to_s: f64, loudness: f64, seed: u64) {
    let mut noise = Noise(seed);
    let mut resonances = [(700.0, 0.0, 0.0), (1200.0, 0.0, 0.0), (2600.0, 0.0, 0.0)];
    let (from, to) = ((from_s * RATE_HZ) as usize, (to_s * RATE_HZ) as usize);
    let end = to.min(sound.len());
    for (n, sample) in sound[from..end].iter_mut().enumerate() {
        let syllable_s = n as f64 / RATE_HZ % 0.25;
        let voiced = syllable_s > 0.06 && syllable_s < 0.22;
        let pulse = if voiced && n % 436 == 0 { 1.0 } else { 0.0 };
        let mut out = 0.0;
        for (hz, y1, y2) in &mut resonances {
            let radius = (-PI * 90.0 / RATE_HZ).exp();
            let y =
                pulse + 2.0 * radius * (TAU * *hz / RATE_HZ).cos() * *y1 - radius * radius * *y2;
            (*y1, *y2) = (y, *y1);
            out += y;
        }
        // A "t": noise that rises in a millisecond and fades in ten, a quarter as high.
        let t_s = syllable_s - 0.04;
        let burst = if t_s > 0.0 {
            (t_s / 0.001).min(1.0) * (-t_s / 0.01).exp()
        } else {
            0.0
        };
        *sample += loudness * (0.12 * out + 0.25 * burst * noise.next());
    }
}

/// Adds a strike whose first sample is at `at_s`: a crack of noise that fades in 6 ms with a ring
/// at 3.4 kHz, and a duller echo from the net.
pub fn add_strike(sound: &mut [f64], at_s: f64, loudness: f64, seed: u64) {
    let mut noise = Noise(seed);
    let first = (at_s * RATE_HZ).round() as usize;
    let mut dull = 0.0;
    for n in 0..(0.3 * RATE_HZ) as usize {
        let t_s = n as f64 / RATE_HZ;
        let ring = (TAU * 3400.0 * t_s).sin() * (-t_s / 0.03).exp();
        let crack = noise.next() * (-t_s / 0.006).exp();
        let room = 0.05 * noise.next() * (-t_s / 0.08).exp();
        let net_s = t_s - 0.035;
        dull += 0.3 * (noise.next() - dull);
        let net = if net_s > 0.0 {
            0.6 * dull * (-net_s / 0.02).exp()
        } else {
            0.0
        };
        if let Some(sample) = sound.get_mut(first + n) {
            *sample += loudness * (0.7 * crack + 0.3 * ring + room + net);
        }
    }
}

/// As 16-bit samples, clipped.
pub fn pcm(sound: &[f64]) -> Vec<u8> {
    sound
        .iter()
        .flat_map(|s| ((s.clamp(-1.0, 1.0) * 32_767.0) as i16).to_le_bytes())
        .collect()
}

/// What happens before the camera. Times are real s from the first picture.
#[derive(Clone, Debug, Default)]
pub struct Story {
    pub length_s: f64,
    /// Impacts of swings.
    pub swings_s: Vec<f64>,
    /// Stretches of waggling the club.
    pub waggles_s: Vec<(f64, f64)>,
    /// Stretches of waving the arms, as in talk.
    pub gestures_s: Vec<(f64, f64)>,
    /// Stretches in which the player walks: from and to, and sideways as parts of the height.
    pub walks: Vec<(f64, f64, f64, f64)>,
    /// Nobody is there at all.
    pub nobody: bool,
    /// A hand-held camera trembles by up to this much, px.
    pub tremor_px: f64,
    /// A lamp flickers by this many grey levels.
    pub flicker_levels: f64,
}

pub const WIDTH: usize = 256;
pub const HEIGHT: usize = 144;
/// Stature of the player, px.
const STATURE: f64 = 90.0;

/// Angle of the arms from hanging, rad, and of the club from the arms, `t` s after impact. The
/// back-swing takes 0.85 s and the down-swing 0.27 s.
fn swing_angles(t: f64) -> (f64, f64) {
    let ease = |p: f64| (1.0 - (PI * p.clamp(0.0, 1.0)).cos()) / 2.0;
    match t {
        _ if t < -0.27 => {
            let p = ease((t + 1.12) / 0.85);
            (2.3 * p, 1.5 * p)
        }
        _ if t < 0.0 => {
            // Speeds up all the way; the wrists let go in the second half.
            let p = (t + 0.27) / 0.27;
            (
                2.3 * (1.0 - p.powf(1.8)),
                1.5 * (1.0 - ((p - 0.5) / 0.5).max(0.0).powi(2)),
            )
        }
        _ if t < 0.6 => {
            let p = 1.0 - (1.0 - t / 0.6).powf(2.6);
            (-2.5 * p, -1.4 * p)
        }
        _ => {
            let p = ease((t - 1.6) / 1.2);
            (-2.5 * (1.0 - p), -1.4 * (1.0 - p))
        }
    }
}

impl Story {
    /// The picture at `t_s`, luma and grey chroma.
    pub fn picture(&self, t_s: f64, noise: &mut Noise) -> Vec<u8> {
        let shake = [noise.next() * self.tremor_px, noise.next() * self.tremor_px];
        let lift = self.flicker_levels * (TAU * 7.3 * t_s).sin();
        let columns: Vec<[f64; 2]> = (0..WIDTH)
            .map(|x| x as f64 + shake[0])
            .map(|x| {
                [
                    18.0 * (x / 7.0).sin(),
                    140.0 + 10.0 * (x / 31.0).sin() + lift,
                ]
            })
            .collect();
        let mut luma = Vec::with_capacity(WIDTH * HEIGHT);
        for y in 0..HEIGHT {
            let row = ((y as f64 + shake[1]) / 9.0).cos();
            luma.extend(columns.iter().map(|[ripple, ground]| ripple * row + ground));
        }
        if !self.nobody {
            for (from, to, half_width, shade) in self.limbs(t_s) {
                draw(&mut luma, from, to, half_width, shade + lift, shake);
            }
        }
        let mut bytes: Vec<u8> = luma
            .iter()
            .map(|v| (v + 2.5 * noise.next()).clamp(16.0, 235.0) as u8)
            .collect();
        bytes.resize(WIDTH * HEIGHT * 3 / 2, 128);
        bytes
    }

    /// Pictures at `rate_hz` to the end.
    pub fn pictures(&self, rate_hz: f64) -> impl Iterator<Item = Vec<u8>> {
        let mut noise = Noise(11);
        let story = self.clone();
        let count = (self.length_s * rate_hz).round() as usize;
        (0..count).map(move |n| story.picture(n as f64 / rate_hz, &mut noise))
    }

    fn limbs(&self, t_s: f64) -> Vec<([f64; 2], [f64; 2], f64, f64)> {
        let within = |&(from, to): &(f64, f64)| t_s >= from && t_s < to;
        let (mut arm, mut club) = (0.0, 0.0);
        if let Some(impact) = self
            .swings_s
            .iter()
            .find(|&&s| t_s > s - 1.2 && t_s < s + 3.0)
        {
            (arm, club) = swing_angles(t_s - impact);
        } else if self.waggles_s.iter().any(within) {
            arm = 0.15 * (TAU * 1.1 * t_s).sin();
            club = 0.6 * (TAU * 1.7 * t_s).sin();
        } else if self.gestures_s.iter().any(within) {
            arm = 0.9 * (TAU * 0.6 * t_s).sin() + 0.4 * (TAU * 1.3 * t_s).cos();
        }
        let (mut place, mut stride) = (0.0, 0.0);
        for &(from, to, start, end) in &self.walks {
            let part = ((t_s - from) / (to - from)).clamp(0.0, 1.0);
            if t_s >= from {
                place = start + part * (end - start);
            }
            if part > 0.0 && part < 1.0 {
                stride = 0.22 * (TAU * 0.9 * t_s).sin();
                arm = 0.5 * (TAU * 0.9 * t_s).sin();
            }
        }
        let foot_y = 0.95 * HEIGHT as f64;
        let at = |x: f64, up: f64| {
            [
                WIDTH as f64 / 2.0 + (place + x) * STATURE,
                foot_y - up * STATURE,
            ]
        };
        let px = |part: f64| part * STATURE;
        let hand = (-0.40 * f64::sin(arm), 0.80 - 0.40 * f64::cos(arm));
        let head = arm + club;
        let tip = (
            hand.0 - 0.50 * f64::sin(head),
            hand.1 - 0.50 * f64::cos(head) + 0.03,
        );
        vec![
            (at(-0.10 - stride, 0.0), at(-0.05, 0.5), px(0.04), 60.0),
            (at(0.10 + stride, 0.0), at(0.05, 0.5), px(0.04), 60.0),
            (at(0.0, 0.5), at(0.0, 0.80), px(0.09), 90.0),
            (at(0.0, 0.93), at(0.0, 0.94), px(0.06), 190.0),
            (at(0.0, 0.80), at(hand.0, hand.1), px(0.035), 185.0),
            (at(hand.0, hand.1), at(tip.0, tip.1), px(0.012), 40.0),
        ]
    }
}

/// A line with round ends, softened by a pixel.
fn draw(
    luma: &mut [f64],
    from: [f64; 2],
    to: [f64; 2],
    half_width: f64,
    shade: f64,
    shake: [f64; 2],
) {
    let [from, to] = [from, to].map(|p| [p[0] - shake[0], p[1] - shake[1]]);
    let reach = half_width + 1.0;
    let range = |axis: usize, size: usize| {
        let low = (from[axis].min(to[axis]) - reach).max(0.0) as usize;
        let high = (from[axis].max(to[axis]) + reach).clamp(0.0, size as f64) as usize;
        low.min(size)..high
    };
    let along = [to[0] - from[0], to[1] - from[1]];
    let length2 = (along[0].powi(2) + along[1].powi(2)).max(1e-9);
    for y in range(1, HEIGHT) {
        for x in range(0, WIDTH) {
            let here = [x as f64 + 0.5 - from[0], y as f64 + 0.5 - from[1]];
            let part = ((here[0] * along[0] + here[1] * along[1]) / length2).clamp(0.0, 1.0);
            let away = (here[0] - part * along[0]).hypot(here[1] - part * along[1]);
            let cover = (half_width + 0.5 - away).clamp(0.0, 1.0);
            let value = &mut luma[y * WIDTH + x];
            *value += cover * (shade - *value);
        }
    }
}
