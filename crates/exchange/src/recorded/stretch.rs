//! The stretch of a recording that is kept: each point over time, short gaps bridged, around the fastest hands.

use super::names::{ANKLE, Found, PARTS, Source, TOE, WRIST};
use super::{Recorded, RecordedError};
use glam::DVec3;

/// Fewest instants of a swing.
pub const LEAST_INSTANTS: usize = 24;
/// Address lies at least this long before the fastest hands, s.
pub const SWING_S: f64 = 0.5;
/// Longest gap that is bridged, s: by then a hand has gone round a bend.
const LONGEST_GAP_S: f64 = 0.1;
/// What is kept before and after the fastest hands, s: the way back, the address, the finish.
const BEFORE_S: f64 = 3.5;
const AFTER_S: f64 = 2.5;

/// Each point over time: the head, then the parts of both sides.
pub fn tracks(recorded: &Recorded, found: &Found, unit_m: f64) -> Vec<Vec<Option<DVec3>>> {
    let of = |source: &Source| -> Vec<Option<DVec3>> {
        let place = |points: &Vec<Option<DVec3>>| source.place(points, unit_m);
        recorded.instants.iter().map(place).collect()
    };
    let mut all = vec![of(&found.head)];
    for side in &found.pairs {
        let first = all.len();
        all.extend(side.iter().map(of));
        for (part, source) in side.iter().enumerate() {
            if *source == Source::BehindAnkle {
                let (ankle, toe) = (&all[first + ANKLE], &all[first + TOE]);
                let behind = ankle
                    .iter()
                    .zip(toe)
                    .map(|(ankle, toe)| Some((*ankle)? - 0.3 * ((*toe)? - (*ankle)?)));
                all[first + part] = behind.collect();
            }
        }
    }
    all
}

/// Short gaps, on the line between their ends.
pub fn bridge(tracks: &mut [Vec<Option<DVec3>>], rate_hz: f64) {
    let longest = (LONGEST_GAP_S * rate_hz) as usize;
    for track in tracks {
        let mut last: Option<(usize, DVec3)> = None;
        for i in 0..track.len() {
            let Some(here) = track[i] else { continue };
            if let Some((before, from)) = last
                && (2..=longest + 1).contains(&(i - before))
            {
                for (k, gap) in track[before..i].iter_mut().enumerate().skip(1) {
                    *gap = Some(from.lerp(here, k as f64 / (i - before) as f64));
                }
            }
            last = Some((i, here));
        }
    }
}

/// Middle of the wrists.
fn hands_at(tracks: &[Vec<Option<DVec3>>], i: usize) -> Option<DVec3> {
    let wrist = |side: usize| tracks[1 + side * PARTS.len() + WRIST][i];
    Some(wrist(0)?.midpoint(wrist(1)?))
}

/// The instant of the fastest hands, over 50 ms.
pub fn fastest(tracks: &[Vec<Option<DVec3>>], rate_hz: f64) -> Option<usize> {
    let half = ((0.025 * rate_hz).round() as usize).max(1);
    let count = tracks[0].len();
    (half..count.saturating_sub(half))
        .filter_map(|i| {
            let way = hands_at(tracks, i + half)? - hands_at(tracks, i - half)?;
            Some((i, way.length()))
        })
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(i, _)| i)
}

/// What is kept: all around the fastest hands in which every point is known.
pub fn stretch(
    tracks: &[Vec<Option<DVec3>>],
    fastest: usize,
    rate_hz: f64,
) -> Result<std::ops::Range<usize>, RecordedError> {
    let count = tracks[0].len();
    let steps = |time_s: f64| (time_s * rate_hz) as usize;
    let from = fastest.saturating_sub(steps(BEFORE_S));
    let to = (fastest + steps(AFTER_S)).min(count - 1);
    let lost = |i: &usize| tracks.iter().any(|track| track[*i].is_none());
    let first = (from..=fastest)
        .rev()
        .find(lost)
        .map_or(from, |lost| lost + 1);
    let end = (fastest..=to).find(lost).unwrap_or(to + 1);
    // A point lost on the way down, or just before it.
    let late = first > from && fastest - first.min(fastest) < steps(2.0 * SWING_S);
    if late || end <= fastest {
        let at = if end <= fastest { fastest } else { first - 1 };
        let point = tracks.iter().position(|track| track[at].is_none());
        let point = point.map_or("body", |point| match point {
            0 => "head",
            other => PARTS[(other - 1) % PARTS.len()],
        });
        let time_s = at as f64 / rate_hz;
        return Err(RecordedError::Lost { point, time_s });
    }
    match end - first < LEAST_INSTANTS {
        true => Err(RecordedError::TooShort {
            instants: end - first,
        }),
        false => Ok(first..end),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_short_gap_is_bridged_on_the_line_between_its_ends_and_a_long_one_stays() {
        let rate_hz = 50.0;
        let longest = (LONGEST_GAP_S * rate_hz) as usize;
        let at = |i: usize| DVec3::new(i as f64, 2.0 * i as f64, 1.0);
        for (gap, bridged) in [(1, true), (longest, true), (longest + 1, false)] {
            let known = |i: usize| (!(3..3 + gap).contains(&i)).then(|| at(i));
            let mut tracks = [(0..gap + 6).map(known).collect::<Vec<_>>()];
            bridge(&mut tracks, rate_hz);
            for (i, here) in tracks[0].iter().enumerate() {
                let expected = (bridged || known(i).is_some()).then(|| at(i));
                assert!(
                    match (here, expected) {
                        (Some(here), Some(expected)) => (*here - expected).length() < 1e-12,
                        (here, expected) => *here == expected,
                    },
                    "gap of {gap}, instant {i}: {here:?}"
                );
            }
        }
    }
}
