//! A square of a picture as the input of a network: sampled, turned upright, R'G'B' planes.
//!
//! Samples are bilinear between pixel centres, straight from the Y'CbCr planes. A network's input
//! is small and a phone's picture large; taking one bilinear sample out of many pixels would alias,
//! so the planes are first halved (2×2 means) as often as the square is more than twice the input.

use crate::region::Square;
use lessonwright_model::Picture;
use std::borrow::Cow;

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
    let (step_x, step_y) = ((cos * step) as f32, (sin * step) as f32);
    let half_sample = 0.5 / side as f64;
    let (width, height) = (picture.width as f32, picture.height as f32);
    let gain = range.white - range.black;
    for row in 0..side {
        let start = square.point_at(half_sample, (row as f64 + 0.5) / side as f64);
        let (start_x, start_y) = (start.x as f32, start.y as f32);
        let line = row * side..(row + 1) * side;
        let pixels = red[line.clone()]
            .iter_mut()
            .zip(&mut green[line.clone()])
            .zip(&mut blue[line]);
        for (column, ((red, green), blue)) in pixels.enumerate() {
            let x = start_x + column as f32 * step_x;
            let y = start_y + column as f32 * step_y;
            let inside = x >= 0.0 && y >= 0.0 && x < width && y < height;
            let colour = if inside || outside == Outside::Border {
                planes.colour_at(x, y)
            } else {
                [0.0; 3]
            };
            let [r, g, b] = colour.map(|value| range.black + gain * value);
            (*red, *green, *blue) = (r, g, b);
        }
    }
}

/// How often to halve, so that samples lie less than two pixels apart.
fn halvings(square_side_px: f64, side: usize) -> u32 {
    (square_side_px / side as f64).log2().floor().max(0.0) as u32
}

/// The parts of a picture's planes that a square needs, reduced in size.
struct Planes<'a> {
    luma: Plane<'a>,
    cb: Plane<'a>,
    cr: Plane<'a>,
}

impl<'a> Planes<'a> {
    fn reduced(picture: &'a Picture, square: &Square, halvings: u32) -> Self {
        let (chroma_width, chroma_height) = (picture.chroma_width(), picture.height.div_ceil(2));
        let luma = Plane::whole(&picture.luma, picture.width, picture.height, 1.0);
        let cb = Plane::whole(&picture.cb, chroma_width, chroma_height, 2.0);
        let cr = Plane::whole(&picture.cr, chroma_width, chroma_height, 2.0);
        // Chroma has been halved once already.
        let chroma_halvings = halvings.saturating_sub(1);
        Planes {
            luma: luma.reduced(square, halvings),
            cb: cb.reduced(square, chroma_halvings),
            cr: cr.reduced(square, chroma_halvings),
        }
    }

    /// R'G'B' in 0..=1 (limited-range ITU-R BT.709-6) at a point of the picture.
    fn colour_at(&self, x: f32, y: f32) -> [f32; 3] {
        // 255/219 and the matrix of `lessonwright_model::picture`, over 255.
        let luma = (self.luma.bilinear(x, y) - 16.0) * (1.164_383 / 255.0);
        let blue = (self.cb.bilinear(x, y) - 128.0) * (1.0 / 255.0);
        let red = (self.cr.bilinear(x, y) - 128.0) * (1.0 / 255.0);
        [
            (luma + 1.792_741 * red).clamp(0.0, 1.0),
            (luma - 0.213_249 * blue - 0.532_909 * red).clamp(0.0, 1.0),
            (luma + 2.112_402 * blue).clamp(0.0, 1.0),
        ]
    }
}

/// A rectangle of samples within a picture.
struct Plane<'a> {
    samples: Cow<'a, [u8]>,
    width: usize,
    height: usize,
    /// Outer corner of the first sample, px of the picture.
    left: f32,
    top: f32,
    /// Picture pixels a sample, the same in both directions.
    pitch: f32,
}

impl<'a> Plane<'a> {
    fn whole(samples: &'a [u8], width: usize, height: usize, pitch: f32) -> Self {
        Plane {
            samples: Cow::Borrowed(samples),
            width,
            height,
            left: 0.0,
            top: 0.0,
            pitch,
        }
    }

    /// Halved `halvings` times, of the parts that the square covers.
    fn reduced(self, square: &Square, halvings: u32) -> Self {
        let mut plane = self;
        for _ in 0..halvings {
            plane = plane.halved_around(square);
        }
        plane
    }

    /// Means of 2×2 samples over the square's bounding box.
    fn halved_around(&self, square: &Square) -> Plane<'a> {
        let columns = self.pairs_covered(square, |p| p.0, self.left, self.width);
        let rows = self.pairs_covered(square, |p| p.1, self.top, self.height);
        let width = columns.len();
        let mut samples = Vec::with_capacity(width * rows.len());
        for row in rows.clone() {
            let upper = self.line(2 * row);
            let lower = self.line((2 * row + 1).min(self.height - 1));
            let (upper, lower) = (&upper[2 * columns.start..], &lower[2 * columns.start..]);
            let whole_pairs = width.min(upper.len() / 2);
            let (upper_pairs, lower_pairs) = (upper.as_chunks::<2>().0, lower.as_chunks::<2>().0);
            samples.extend(
                upper_pairs[..whole_pairs]
                    .iter()
                    .zip(&lower_pairs[..whole_pairs])
                    .map(|(u, l)| mean_of_4(u[0], u[1], l[0], l[1])),
            );
            if whole_pairs < width {
                // The last column of an odd width stands for its missing neighbour.
                let last = upper.len() - 1;
                samples.push(mean_of_4(
                    upper[last],
                    upper[last],
                    lower[last],
                    lower[last],
                ));
            }
        }
        Plane {
            width,
            height: rows.len(),
            samples: Cow::Owned(samples),
            left: self.left + 2.0 * self.pitch * columns.start as f32,
            top: self.top + 2.0 * self.pitch * rows.start as f32,
            pitch: 2.0 * self.pitch,
        }
    }

    /// Which pairs of columns (or rows) the square and a margin of two samples cover; never none.
    fn pairs_covered(
        &self,
        square: &Square,
        axis: impl Fn((f64, f64)) -> f64,
        origin: f32,
        size: usize,
    ) -> std::ops::Range<usize> {
        let corners = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)].map(|(u, v)| {
            let corner = square.point_at(u, v);
            (axis((corner.x, corner.y)) - f64::from(origin)) / (2.0 * f64::from(self.pitch))
        });
        let pairs = size.div_ceil(2);
        let low = corners.iter().copied().fold(f64::INFINITY, f64::min) - 2.0;
        let high = corners.iter().copied().fold(f64::NEG_INFINITY, f64::max) + 2.0;
        let start = (low.max(0.0) as usize).min(pairs - 1);
        let end = (high.max(0.0).ceil() as usize).clamp(start + 1, pairs);
        start..end
    }

    fn line(&self, row: usize) -> &[u8] {
        &self.samples[row * self.width..(row + 1) * self.width]
    }

    /// Value at a point of the picture; beyond the border, the border's.
    fn bilinear(&self, x: f32, y: f32) -> f32 {
        // Sample centres lie at half-integers.
        let x = ((x - self.left) / self.pitch - 0.5).clamp(0.0, (self.width - 1) as f32);
        let y = ((y - self.top) / self.pitch - 0.5).clamp(0.0, (self.height - 1) as f32);
        let (column, row) = (x as usize, y as usize);
        let (right, down) = (x - column as f32, y - row as f32);
        let next_column = (column + 1).min(self.width - 1);
        let upper = self.line(row);
        let lower = self.line((row + 1).min(self.height - 1));
        let between = |a: u8, b: u8| f32::from(a) + right * (f32::from(b) - f32::from(a));
        let above = between(upper[column], upper[next_column]);
        let below = between(lower[column], lower[next_column]);
        above + down * (below - above)
    }
}

fn mean_of_4(a: u8, b: u8, c: u8, d: u8) -> u8 {
    ((u16::from(a) + u16::from(b) + u16::from(c) + u16::from(d) + 2) / 4) as u8
}
