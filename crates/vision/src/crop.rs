//! A square of a picture as the input of a network: sampled, turned upright, R'G'B' planes.
//!
//! Samples are bilinear between pixel centres, straight from the Y'CbCr planes. A network's input
//! is small and a phone's picture large; taking one bilinear sample out of many pixels would alias,
//! so the planes are first halved (2×2 means) as often as the square is more than twice the input.

use crate::region::Square;
use lessonwright_model::Picture;
use std::borrow::Cow;
use std::ops::Range;

/// What lies outside the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Outside {
    /// The nearest pixel of the border.
    Border,
    /// Black.
    Black,
}

/// How colours 0..=1 become network inputs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct InputRange {
    pub(crate) black: f32,
    pub(crate) white: f32,
}

/// Fills `input` with three planes (R, G, B) of `side`×`side` samples, row-major.
///
/// # Panics
/// When `input` has another length than 3·`side`².
pub(crate) fn sample_square(
    picture: &Picture,
    square: &Square,
    side: usize,
    outside: Outside,
    range: InputRange,
    input: &mut [f32],
) {
    assert_eq!(input.len(), 3 * side * side, "three planes");
    let planes = Planes::reduced(picture, square, halvings(square.side_px, side));
    let (red, rest) = input.split_at_mut(side * side);
    let (green, blue) = rest.split_at_mut(side * side);

    let step = square.side_px / side as f64;
    let (sin, cos) = square.rotation_rad.sin_cos();
    let step = [(cos * step) as f32, (sin * step) as f32];
    let size = [picture.width as f32, picture.height as f32];
    let mut line = Line::new(side);
    for row in 0..side {
        let start = square.point_at(0.5 / side as f64, (row as f64 + 0.5) / side as f64);
        line.sample(&planes, [start.x as f32, start.y as f32], step);
        if outside == Outside::Black {
            line.blacken_outside(size);
        }
        let samples = row * side..(row + 1) * side;
        line.write_colours(
            range,
            &mut red[samples.clone()],
            &mut green[samples.clone()],
            &mut blue[samples],
        );
    }
}

/// One line of samples on its way from the planes to the input.
struct Line {
    /// Places in the picture, px.
    x: Vec<f32>,
    y: Vec<f32>,
    places: Vec<Place>,
    luma: Vec<f32>,
    cb: Vec<f32>,
    cr: Vec<f32>,
}

impl Line {
    fn new(side: usize) -> Self {
        let zeros = || vec![0.0; side];
        Line {
            x: zeros(),
            y: zeros(),
            places: vec![Place::default(); side],
            luma: zeros(),
            cb: zeros(),
            cr: zeros(),
        }
    }

    fn sample(&mut self, planes: &Planes<'_>, start: [f32; 2], step: [f32; 2]) {
        for (column, (x, y)) in self.x.iter_mut().zip(&mut self.y).enumerate() {
            *x = start[0] + column as f32 * step[0];
            *y = start[1] + column as f32 * step[1];
        }
        planes.luma.grid.find(&self.x, &self.y, &mut self.places);
        planes.luma.read(&self.places, &mut self.luma);
        if planes.cb.grid != planes.luma.grid {
            planes.cb.grid.find(&self.x, &self.y, &mut self.places);
        }
        planes.cb.read(&self.places, &mut self.cb);
        planes.cr.read(&self.places, &mut self.cr);
    }

    /// `size` is the picture's width and height, px.
    fn blacken_outside(&mut self, size: [f32; 2]) {
        for (i, (&x, &y)) in self.x.iter().zip(&self.y).enumerate() {
            let inside = x >= 0.0 && y >= 0.0 && x < size[0] && y < size[1];
            if !inside {
                (self.luma[i], self.cb[i], self.cr[i]) = (16.0, 128.0, 128.0);
            }
        }
    }

    /// R'G'B' in 0..=1 from limited-range Y'CbCr (ITU-R BT.709-6; 1.164383 is 255/219 and the
    /// others are the matrix of `lessonwright_model::picture`), then to the network's range.
    fn write_colours(
        &self,
        range: InputRange,
        red: &mut [f32],
        green: &mut [f32],
        blue: &mut [f32],
    ) {
        let gain = range.white - range.black;
        let write = |colour: f32| range.black + gain * colour.clamp(0.0, 1.0);
        let samples = self.luma.iter().zip(&self.cb).zip(&self.cr);
        let pixels = red.iter_mut().zip(green).zip(blue);
        for (((luma, cb), cr), ((red, green), blue)) in samples.zip(pixels) {
            let luma = (luma - 16.0) * (1.164_383 / 255.0);
            let cb = (cb - 128.0) * (1.0 / 255.0);
            let cr = (cr - 128.0) * (1.0 / 255.0);
            *red = write(luma + 1.792_741 * cr);
            *green = write(luma - 0.213_249 * cb - 0.532_909 * cr);
            *blue = write(luma + 2.112_402 * cb);
        }
    }
}

/// How often to halve, so that samples lie less than two pixels apart.
fn halvings(square_side_px: f64, side: usize) -> u32 {
    // 2⁸ pixels a sample: no picture is large enough to need more.
    const MOST: f64 = 8.0;
    (square_side_px / side as f64)
        .log2()
        .floor()
        .clamp(0.0, MOST) as u32
}

/// The parts of a picture's planes that a square needs, reduced in size.
struct Planes<'a> {
    luma: Plane<'a>,
    cb: Plane<'a>,
    cr: Plane<'a>,
}

impl<'a> Planes<'a> {
    fn reduced(picture: &'a Picture, square: &Square, halvings: u32) -> Self {
        let luma = Plane::whole(&picture.luma, picture.width, picture.height, 1);
        let chroma_height = picture.height.div_ceil(2);
        let chroma = |samples| Plane::whole(samples, picture.chroma_width(), chroma_height, 2);
        let (cb, cr) = (chroma(&picture.cb), chroma(&picture.cr));
        if halvings == 0 {
            return Planes { luma, cb, cr };
        }
        // Chroma has been halved once already, so all three end on the same grid.
        let covered = Covered::of(square, picture, 1 << halvings);
        Planes {
            luma: luma.halved(halvings, &covered),
            cb: cb.halved(halvings - 1, &covered),
            cr: cr.halved(halvings - 1, &covered),
        }
    }
}

/// The rectangle of a picture that a square covers, in blocks of the final pitch.
struct Covered {
    columns: Range<usize>,
    rows: Range<usize>,
    block_px: usize,
}

impl Covered {
    fn of(square: &Square, picture: &Picture, block_px: usize) -> Self {
        let corners = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)];
        let corners = corners.map(|(u, v)| square.point_at(u, v));
        Covered {
            columns: blocks_covered(corners.map(|p| p.x), picture.width, block_px),
            rows: blocks_covered(corners.map(|p| p.y), picture.height, block_px),
            block_px,
        }
    }
}

/// The blocks along one axis that reach from the least to the largest place, and one more on each
/// side for interpolation, within the picture; never none.
fn blocks_covered(places_px: [f64; 4], size_px: usize, block_px: usize) -> Range<usize> {
    let blocks = size_px.div_ceil(block_px);
    let [low, high] = [
        places_px.iter().copied().fold(f64::INFINITY, f64::min),
        places_px.iter().copied().fold(f64::NEG_INFINITY, f64::max),
    ]
    .map(|place| place / block_px as f64);
    // The casts saturate.
    let start = ((low - 1.0).max(0.0) as usize).min(blocks - 1);
    let end = ((high + 1.0).max(0.0).ceil() as usize).clamp(start + 1, blocks);
    start..end
}

/// Samples on a grid.
struct Plane<'a> {
    samples: Cow<'a, [u8]>,
    grid: Grid,
}

/// Where a plane's samples lie in the picture. Sample centres lie half a pitch from the corner.
#[derive(Clone, Copy, PartialEq)]
struct Grid {
    width: usize,
    height: usize,
    /// Outer corner of the first sample, px of the picture.
    left: f32,
    top: f32,
    /// Samples a pixel of the picture, the same in both directions.
    samples_per_px: f32,
}

/// Four neighbouring samples and how far a point lies between them.
#[derive(Clone, Copy, Default)]
struct Place {
    /// First of the two upper samples, and of the two lower ones.
    upper: u32,
    lower: u32,
    /// From a left sample to its right one: 1, or 0 at the border.
    next: u32,
    right: f32,
    down: f32,
}

impl Grid {
    /// Points beyond the border get the border's place.
    fn find(&self, x: &[f32], y: &[f32], places: &mut [Place]) {
        let (last_column, last_row) = (self.width as u32 - 1, self.height as u32 - 1);
        let along = |value: f32, origin: f32, last: u32| {
            let place = ((value - origin) * self.samples_per_px - 0.5).clamp(0.0, last as f32);
            let whole = place as i32;
            (whole as u32, place - whole as f32)
        };
        for ((&x, &y), place) in x.iter().zip(y).zip(places) {
            let (column, right) = along(x, self.left, last_column);
            let (row, down) = along(y, self.top, last_row);
            let upper = row * self.width as u32 + column;
            *place = Place {
                upper,
                lower: upper + self.width as u32 * u32::from(row < last_row),
                next: u32::from(column < last_column),
                right,
                down,
            };
        }
    }
}

impl<'a> Plane<'a> {
    fn whole(samples: &'a [u8], width: usize, height: usize, pitch_px: usize) -> Self {
        Plane {
            samples: Cow::Borrowed(samples),
            grid: Grid {
                width,
                height,
                left: 0.0,
                top: 0.0,
                samples_per_px: 1.0 / pitch_px as f32,
            },
        }
    }

    /// The rectangle covered, halved until a sample stands for a block.
    fn halved(self, halvings: u32, covered: &Covered) -> Plane<'a> {
        let per_block = 1usize << halvings;
        let columns = scaled_range(&covered.columns, per_block, self.grid.width);
        let rows = scaled_range(&covered.rows, per_block, self.grid.height);
        let (mut width, mut height) = (columns.len(), rows.len());
        let mut samples: Vec<u8> = Vec::new();
        let lines: Vec<&[u8]> = rows
            .map(|row| &self.samples[row * self.grid.width..][columns.clone()])
            .collect();
        if halvings == 0 {
            samples = lines.concat();
        }
        for level in 0..halvings {
            let reduced = if level == 0 {
                half_size(lines.iter().copied(), width, height)
            } else {
                half_size(samples.chunks_exact(width), width, height)
            };
            (width, height) = (width.div_ceil(2), height.div_ceil(2));
            samples = reduced;
        }
        Plane {
            samples: Cow::Owned(samples),
            grid: Grid {
                width,
                height,
                left: (covered.columns.start * covered.block_px) as f32,
                top: (covered.rows.start * covered.block_px) as f32,
                samples_per_px: 1.0 / covered.block_px as f32,
            },
        }
    }

    /// Bilinear values at these places.
    fn read(&self, places: &[Place], values: &mut [f32]) {
        let samples: &[u8] = &self.samples;
        let sample = |index: u32| f32::from(samples[index as usize]);
        let between = |a: f32, b: f32, share: f32| a + share * (b - a);
        for (place, value) in places.iter().zip(values) {
            let Place {
                upper, lower, next, ..
            } = *place;
            let above = between(sample(upper), sample(upper + next), place.right);
            let below = between(sample(lower), sample(lower + next), place.right);
            *value = between(above, below, place.down);
        }
    }
}

fn scaled_range(range: &Range<usize>, factor: usize, most: usize) -> Range<usize> {
    range.start * factor..(range.end * factor).min(most)
}

/// Means of 2×2 samples; the last line or column of an odd size stands for its missing neighbour.
fn half_size<'a>(lines: impl Iterator<Item = &'a [u8]>, width: usize, height: usize) -> Vec<u8> {
    let mut halved = Vec::with_capacity(width.div_ceil(2) * height.div_ceil(2));
    let mut lines = lines.take(height);
    while let Some(upper) = lines.next() {
        let lower = lines.next().unwrap_or(upper);
        let (upper_pairs, upper_last) = upper.as_chunks::<2>();
        let (lower_pairs, lower_last) = lower.as_chunks::<2>();
        let pairs = upper_pairs.iter().zip(lower_pairs);
        halved.extend(pairs.map(|(u, l)| mean_of_4(u[0], u[1], l[0], l[1])));
        if let ([u], [l]) = (upper_last, lower_last) {
            halved.push(mean_of_4(*u, *u, *l, *l));
        }
    }
    halved
}

fn mean_of_4(a: u8, b: u8, c: u8, d: u8) -> u8 {
    ((u16::from(a) + u16::from(b) + u16::from(c) + u16::from(d) + 2) / 4) as u8
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_model::PixelPoint;

    const UNIT: InputRange = InputRange {
        black: 0.0,
        white: 1.0,
    };

    /// Luma 40 + 0.25·x + 0.15·y at pixel centres, no colour. Every value lies well inside 8 bits;
    /// rounding to whole steps limits how exactly the ramp can be met.
    fn ramp(width: usize, height: usize) -> Picture {
        let mut picture = crate::testing::plain_picture(width, height, 0);
        for y in 0..height {
            for x in 0..width {
                let luma = ramp_luma(x as f64 + 0.5, y as f64 + 0.5);
                picture.luma[y * width + x] = luma.round() as u8;
            }
        }
        picture
    }

    fn ramp_luma(x: f64, y: f64) -> f64 {
        40.0 + 0.25 * x + 0.15 * y
    }

    fn sample(picture: &Picture, square: &Square, side: usize, outside: Outside) -> Vec<f32> {
        let mut input = vec![f32::NAN; 3 * side * side];
        sample_square(picture, square, side, outside, UNIT, &mut input);
        input
    }

    /// Bilinear sampling, means of 2×2 and turning are all exact on a plane, so only the rounding
    /// of the picture's samples (half a step) and of the means (half a step each time) remains.
    #[test]
    fn a_linear_ramp_is_met_wherever_the_square_lies() {
        let picture = ramp(320, 240);
        let cases = [
            ("one to one", 160.0, 120.0, 64.0, 64, 0.0),
            ("between pixels", 150.3, 110.7, 64.0, 64, 0.0),
            ("enlarged", 100.0, 100.0, 20.0, 64, 0.0),
            ("reduced, not halved", 160.0, 120.0, 100.0, 64, 0.0),
            ("halved once", 160.0, 120.0, 160.0, 64, 0.0),
            ("halved twice", 160.0, 120.0, 140.0, 32, 0.0),
            ("turned", 160.0, 120.0, 100.0, 64, 0.6),
            ("turned and halved", 160.0, 120.0, 140.0, 64, -0.4),
            ("upside down", 160.0, 120.0, 100.0, 64, std::f64::consts::PI),
        ];
        for (name, x, y, side_px, side, rotation_rad) in cases {
            let square = Square {
                centre: PixelPoint { x, y },
                side_px,
                rotation_rad,
            };
            let input = sample(&picture, &square, side, Outside::Border);
            for row in 0..side {
                for column in 0..side {
                    let u = (column as f64 + 0.5) / side as f64;
                    let v = (row as f64 + 0.5) / side as f64;
                    let at = square.point_at(u, v);
                    let luma = f64::from(input[row * side + column]) * 219.0 + 16.0;
                    let expected = ramp_luma(at.x, at.y);
                    assert!(
                        (luma - expected).abs() < 1.5,
                        "{name}: {luma} instead of {expected} at {at:?}"
                    );
                }
            }
        }
    }

    /// The mean error of many samples shows a shift that rounding would hide: the ramp rises by one
    /// step a pixel along the diagonal, so half a pixel would show as half a step. Rounding a mean
    /// of four up at one half adds an eighth of a step a halving.
    #[test]
    fn halving_does_not_shift_the_picture() {
        let luma = |x: f64, y: f64| 20.0 + 0.6 * x + 0.4 * y;
        let mut picture = crate::testing::plain_picture(240, 160, 0);
        for (i, sample) in picture.luma.iter_mut().enumerate() {
            *sample = luma((i % 240) as f64 + 0.5, (i / 240) as f64 + 0.5).round() as u8;
        }
        let square = Square {
            centre: PixelPoint { x: 120.0, y: 80.0 },
            side_px: 140.0,
            rotation_rad: 0.05,
        };
        for (side, halvings) in [(128usize, 0.0), (64, 1.0), (32, 2.0)] {
            let input = sample(&picture, &square, side, Outside::Border);
            let mut sum = 0.0;
            for (i, value) in input[..side * side].iter().enumerate() {
                let u = ((i % side) as f64 + 0.5) / side as f64;
                let v = ((i / side) as f64 + 0.5) / side as f64;
                let at = square.point_at(u, v);
                sum += f64::from(*value) * 219.0 + 16.0 - luma(at.x, at.y);
            }
            let mean = sum / (side * side) as f64;
            assert!((mean - 0.125 * halvings).abs() < 0.1, "side {side}: {mean}");
        }
    }

    /// ITU-R BT.709-6: white is luma 235, black 16; pure red of full range has
    /// Y' = 16 + 219·0.2126, Cb = 128 − 224·0.2126/1.8556, Cr = 128 + 224/2.
    #[test]
    fn colours_follow_bt_709() {
        let cases = [
            ("black", 16, 128, 128, [0.0, 0.0, 0.0]),
            ("white", 235, 128, 128, [1.0, 1.0, 1.0]),
            ("red", 63, 102, 240, [1.0, 0.0, 0.0]),
            ("beyond white", 255, 128, 128, [1.0, 1.0, 1.0]),
        ];
        for (name, luma, cb, cr, expected) in cases {
            let mut picture = crate::testing::plain_picture(16, 16, luma);
            picture.cb.fill(cb);
            picture.cr.fill(cr);
            let square = Square {
                centre: PixelPoint { x: 8.0, y: 8.0 },
                side_px: 8.0,
                rotation_rad: 0.0,
            };
            let input = sample(&picture, &square, 4, Outside::Border);
            for (plane, expected) in expected.into_iter().enumerate() {
                let value = input[plane * 16 + 5];
                // Half an 8-bit step of each of luma and chroma.
                assert!(
                    (value - expected).abs() < 0.008,
                    "{name}: {value}, {expected}"
                );
            }
        }
    }

    #[test]
    fn outside_is_border_or_black() {
        let picture = crate::testing::plain_picture(31, 17, 235);
        let square = Square {
            centre: PixelPoint { x: 15.5, y: 8.5 },
            side_px: 200.0,
            rotation_rad: 0.3,
        };
        let border = sample(&picture, &square, 50, Outside::Border);
        assert!(border.iter().all(|&value| (value - 1.0).abs() < 1e-3));
        let black = sample(&picture, &square, 50, Outside::Black);
        let lit = black[..2500].iter().filter(|&&value| value > 0.5).count();
        // 31×17 px of a square of 200 px, sampled 50×50.
        let expected = 31.0 * 17.0 / 16.0;
        assert!((lit as f64 - expected).abs() < 8.0, "{lit}, {expected}");
        assert_eq!(black[0], 0.0);
    }

    /// A square may lie anywhere, have any size, in a picture of any size.
    #[test]
    fn odd_sizes_and_places_are_safe() {
        for (width, height) in [(1, 1), (2, 3), (31, 17), (64, 1)] {
            let picture = crate::testing::plain_picture(width, height, 126);
            for side_px in [0.0, 0.01, 1.0, 33.0, 5000.0, 1e30, f64::NAN] {
                for (x, y) in [(0.0, 0.0), (-500.0, 20.0), (1e5, -1e5)] {
                    let square = Square {
                        centre: PixelPoint { x, y },
                        side_px,
                        rotation_rad: 1.0,
                    };
                    let input = sample(&picture, &square, 8, Outside::Border);
                    let fits = |value: &f32| (0.0..=1.0).contains(value) || side_px.is_nan();
                    assert!(input.iter().all(fits), "side {side_px}");
                }
            }
        }
    }
}
