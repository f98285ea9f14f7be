//! Repeatable randomness: a seeded generator for draws, and hashed noise for surfaces and sensors.

use glam::Vec3;

/// SplitMix64 (G. L. Steele, D. Lea, C. H. Flood, "Fast splittable pseudorandom number generators",
/// OOPSLA 2014): one 64-bit word of state, the same on every machine.
#[derive(Clone, Debug)]
pub struct SplitMix64(u64);

impl SplitMix64 {
    /// A generator; equal seeds give equal draws.
    pub fn new(seed: u64) -> SplitMix64 {
        SplitMix64(seed)
    }

    /// The next word.
    pub fn next_u64(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Uniform in 0 ≤ x < 1.
    pub fn unit(&mut self) -> f64 {
        (self.next_u64() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Uniform between two values.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// Bell-shaped about 0 with standard deviation 1, at most ±3.46: the sum of twelve uniforms
    /// without its tails.
    pub fn bell(&mut self) -> f64 {
        let sum: f64 = (0..12).map(|_| self.unit()).sum();
        (sum - 6.0).clamp(-3.46, 3.46)
    }

    /// True with a probability.
    pub fn chance(&mut self, probability: f64) -> bool {
        self.unit() < probability
    }

    /// One of several.
    pub fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        of[(self.next_u64() % of.len() as u64) as usize]
    }
}

/// Odd factors that spread each axis over the word.
const HASH_FACTORS: [u32; 3] = [0x8da6_b343, 0xd816_3841, 0xcb1a_b31f];

/// Uniform in 0 ≤ x < 1 from three integers.
#[inline]
pub fn hash(x: i32, y: i32, z: i32) -> f32 {
    scramble(
        (x as u32).wrapping_mul(HASH_FACTORS[0])
            ^ (y as u32).wrapping_mul(HASH_FACTORS[1])
            ^ (z as u32).wrapping_mul(HASH_FACTORS[2]),
    )
}

/// The end of MurmurHash2, as a fraction.
#[inline]
fn scramble(mut h: u32) -> f32 {
    h ^= h >> 13;
    h = h.wrapping_mul(0x5bd1_e995);
    h ^= h >> 15;
    (h & 0xff_ffff) as f32 / 16_777_216.0
}

/// Smooth noise in 0…1 with one feature a unit.
pub fn value_noise(p: Vec3) -> f32 {
    // Rounding toward zero and one step down for negatives is much faster than `floor` on machines
    // without a rounding instruction.
    let down = |v: f32| {
        let i = v as i32;
        i - i32::from(i as f32 > v)
    };
    let cell = [down(p.x), down(p.y), down(p.z)];
    let u = p - Vec3::new(cell[0] as f32, cell[1] as f32, cell[2] as f32);
    let u = u * u * (Vec3::splat(3.0) - 2.0 * u);
    let mixed = |axis: usize| {
        let low = (cell[axis] as u32).wrapping_mul(HASH_FACTORS[axis]);
        [low, low.wrapping_add(HASH_FACTORS[axis])]
    };
    let (x, y, z) = (mixed(0), mixed(1), mixed(2));
    let edge = |j: usize, k: usize| {
        let (a, b) = (scramble(x[0] ^ y[j] ^ z[k]), scramble(x[1] ^ y[j] ^ z[k]));
        a + (b - a) * u.x
    };
    let face = |k: usize| {
        let (a, b) = (edge(0, k), edge(1, k));
        a + (b - a) * u.y
    };
    let (a, b) = (face(0), face(1));
    a + (b - a) * u.z
}

/// Two octaves of [`value_noise`], for shapes that need no fine grain.
pub fn folds(p: Vec3) -> f32 {
    0.65 * value_noise(p) + 0.35 * value_noise(p * 2.13 + 7.1)
}

/// Three octaves of [`value_noise`].
pub fn cloudy(p: Vec3) -> f32 {
    0.55 * value_noise(p) + 0.30 * value_noise(p * 2.13 + 7.1) + 0.15 * value_noise(p * 4.3 + 3.3)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn split_mix_gives_the_published_sequence() {
        // Reference outputs for seed 1234567, from the Rosetta Code task "Pseudo-random
        // numbers/Splitmix64" (from memory).
        let mut generator = SplitMix64::new(1_234_567);
        let words = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
            4_593_380_528_125_082_431,
            16_408_922_859_458_223_821,
        ];
        for word in words {
            assert_eq!(generator.next_u64(), word);
        }
    }
}
