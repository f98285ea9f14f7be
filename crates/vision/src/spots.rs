//! Small bright things that move: what one picture shows and neither the one before nor the one after does. By
//! plain differences, no network.

use lessonwright_model::{Picture, PixelPoint, Spot};

/// A spot is brighter than both neighbours by this at least, of 255, once smoothed.
const LEAST_RISE: f32 = 10.0;
/// … and by so many times what half of the picture's pixels differ by.
const OVER_NOISE: f32 = 7.5;
/// Pixels of a spot at least.
const LEAST_AREA: usize = 3;
/// Spread square to its way at most, in diameters of the ball: a disc's is a quarter.
const WIDEST: f64 = 0.45;
/// Nearer to where the ball lay than this, in its diameters, it is one with the club.
const NEAREST: f64 = 0.7;
/// Spots of a picture that are kept, the brightest.
const MOST: usize = 40;

/// Spots in the middle one of three pictures of a camera that stands still. `ball` is where the ball lay, `ball_px` its
/// diameter there: what is wider than it, seen from that place, is no ball.
pub fn moving_spots(
    [before, now, after]: [&Picture; 3],
    ball: PixelPoint,
    ball_px: f64,
) -> Vec<Spot> {
    let (width, height) = (now.width, now.height);
    if [before, after].map(|p| (p.width, p.height)) != [(width, height); 2] {
        return Vec::new();
    }
    let rise: Vec<f32> = (now.luma.iter().zip(&before.luma).zip(&after.luma))
        .map(|((now, before), after)| f32::from(*now) - f32::from(*before.max(after)))
        .collect();
    let rise = smoothed(&rise, width, height);
    let least = LEAST_RISE.max(OVER_NOISE * middle_size(&rise));
    let mut spots: Vec<(f64, Spot)> = patches(&rise, width, least)
        .into_iter()
        .filter(|patch| patch.len() >= LEAST_AREA)
        .filter_map(|patch| spot(&patch, &rise, width, ball, ball_px))
        .collect();
    spots.sort_by(|a, b| b.0.total_cmp(&a.0));
    spots.truncate(MOST);
    spots.into_iter().map(|(_, spot)| spot).collect()
}

/// Weights 1, 2, 1 across and down; the edge repeats.
fn smoothed(values: &[f32], width: usize, height: usize) -> Vec<f32> {
    let blend = |a: f32, b: f32, c: f32| 0.25 * (a + 2.0 * b + c);
    let across: Vec<f32> = (0..values.len())
        .map(|i| {
            let (row, x) = (i - i % width, i % width);
            let at = |x: usize| values[row + x];
            blend(at(x.saturating_sub(1)), at(x), at((x + 1).min(width - 1)))
        })
        .collect();
    (0..values.len())
        .map(|i| {
            let (y, x) = (i / width, i % width);
            let at = |y: usize| across[y * width + x];
            blend(at(y.saturating_sub(1)), at(y), at((y + 1).min(height - 1)))
        })
        .collect()
}

/// Median of what they are without their sign.
fn middle_size(values: &[f32]) -> f32 {
    let mut sizes: Vec<f32> = values.iter().map(|v| v.abs()).collect();
    let middle = sizes.len() / 2;
    match sizes.is_empty() {
        true => 0.0,
        false => *sizes.select_nth_unstable_by(middle, f32::total_cmp).1,
    }
}

/// Pixels above `least` that touch along a side, patch by patch.
fn patches(rise: &[f32], width: usize, least: f32) -> Vec<Vec<usize>> {
    let mut taken: Vec<bool> = rise.iter().map(|v| *v <= least).collect();
    let mut all = Vec::new();
    for start in 0..rise.len() {
        if taken[start] {
            continue;
        }
        taken[start] = true;
        let mut patch = vec![start];
        let mut next = 0;
        while let Some(&i) = patch.get(next) {
            next += 1;
            let x = i % width;
            let beside = [
                (x > 0).then(|| i - 1),
                (x + 1 < width).then(|| i + 1),
                i.checked_sub(width),
                (i + width < rise.len()).then(|| i + width),
            ];
            for near in beside.into_iter().flatten() {
                if !taken[near] {
                    taken[near] = true;
                    patch.push(near);
                }
            }
        }
        all.push(patch);
    }
    all
}

/// A patch as a spot, with how bright it is in all; none where it is too wide or too near.
fn spot(
    patch: &[usize],
    rise: &[f32],
    width: usize,
    ball: PixelPoint,
    ball_px: f64,
) -> Option<(f64, Spot)> {
    let pixel = |i: usize| PixelPoint {
        x: (i % width) as f64 + 0.5,
        y: (i / width) as f64 + 0.5,
    };
    let mean = |of: &dyn Fn(PixelPoint) -> f64| {
        let (mut sum, mut total) = (0.0, 0.0);
        for &i in patch {
            let weight = f64::from(rise[i]);
            sum += weight * of(pixel(i));
            total += weight;
        }
        (sum / total, total)
    };
    let ((x, total), (y, _)) = (mean(&|p| p.x), mean(&|p| p.y));
    let at = PixelPoint { x, y };
    let away_px = at.distance(ball);
    if away_px < NEAREST * ball_px {
        return None;
    }
    let (cos, sin) = ((x - ball.x) / away_px, (y - ball.y) / away_px);
    let (square, _) = mean(&|p| ((p.y - y) * cos - (p.x - x) * sin).powi(2));
    let across_px = square.sqrt();
    (across_px <= WIDEST * ball_px).then_some((total, Spot { at, across_px }))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Grey, with bright discs.
    fn picture(discs: &[(f64, f64, f64)]) -> Picture {
        let (width, height) = (120, 90);
        let luma = (0..width * height)
            .map(|i| {
                let (x, y) = ((i % width) as f64 + 0.5, (i / width) as f64 + 0.5);
                // Noise that no two pixels share.
                let noise = ((i * 7919) % 5) as u8;
                let lit = discs.iter().any(|(u, v, r)| (x - u).hypot(y - v) < *r);
                noise + if lit { 200 } else { 70 }
            })
            .collect();
        Picture {
            width,
            height,
            luma,
            cb: vec![128; width * height / 4],
            cr: vec![128; width * height / 4],
        }
    }

    #[test]
    fn what_is_in_one_picture_only_and_no_wider_than_a_ball_is_a_spot() {
        let (lamp, ball) = ((20.0, 20.0, 6.0), PixelPoint { x: 60.0, y: 80.0 });
        let before = picture(&[lamp]);
        // A ball in flight, a shoe that moves.
        let now = picture(&[lamp, (62.3, 41.6, 4.0), (95.0, 40.0, 11.0)]);
        let spots = moving_spots([&before, &now, &before], ball, 9.0);
        assert_eq!(spots.len(), 1, "{spots:?}");
        let at = PixelPoint { x: 62.3, y: 41.6 };
        assert!(spots[0].at.distance(at) < 0.3, "{spots:?}");
        // A disc's spread along a line is a quarter of its diameter; smoothing adds a little.
        assert!((spots[0].across_px - 2.1).abs() < 0.3, "{spots:?}");
        assert!(moving_spots([&now, &now, &now], ball, 9.0).is_empty());
    }

    #[test]
    fn pictures_of_another_size_show_nothing() {
        let picture = picture(&[]);
        let small = Picture {
            width: 2,
            height: 2,
            luma: vec![0; 4],
            cb: vec![128],
            cr: vec![128],
        };
        let ball = PixelPoint::default();
        assert!(moving_spots([&small, &picture, &picture], ball, 9.0).is_empty());
    }
}
