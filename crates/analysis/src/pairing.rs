//! Which two clips show one swing, as far as their clocks, their strikes and their views tell: a proposal for the
//! professional. All times are seconds of real time.

use lessonwright_model::View;

/// Phones write when they began to film in whole seconds, some of them when they ended, and their clocks differ by a second or
/// so, s (common practice, no source).
const CLOCKS_DIFFER_S: f64 = 3.0;

/// Delays from strike to strike differ by less in two clips of the same strikes: sound that travels from 2 m or 5 m differs by
/// 9 ms, and each strike is timed to some milliseconds, s.
const DELAYS_DIFFER_S: f64 = 0.03;

/// Clips of one swing come within this time of each other, s (common practice, no source).
const COME_TOGETHER_S: f64 = 900.0;

/// What is known of a clip.
#[derive(Clone, Debug, PartialEq)]
pub struct Filmed {
    /// Where the camera stood, if it is known.
    pub view: Option<View>,
    /// When filming began by the camera's clock, s since any instant.
    pub from_s: Option<f64>,
    /// When the clip came in, s since the same instant.
    pub came_s: f64,
    /// Strikes heard, s from its first picture, rising.
    pub strikes_s: Vec<f64>,
}

/// Why two clips are taken for one swing, strongest last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Because {
    /// They came one after the other and show the two views.
    CameTogether,
    /// Their strikes fall at the same time by the cameras' clocks.
    SameTime,
    /// The delays from strike to strike are the same.
    SameStrikes,
}

/// Two clips, by their places in what was given, the earlier place first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// One.
    pub first: usize,
    /// The other.
    pub second: usize,
    /// Why.
    pub because: Because,
}

/// The pairs among the clips of one player: the best supported first, each clip in one at most. Empty input has none.
pub fn pairs(clips: &[Filmed]) -> Vec<Pair> {
    let mut found: Vec<(Pair, f64)> = Vec::new();
    for first in 0..clips.len() {
        for second in first + 1..clips.len() {
            if let Some((because, apart_s)) = evidence(&clips[first], &clips[second]) {
                let pair = Pair {
                    first,
                    second,
                    because,
                };
                found.push((pair, apart_s));
            }
        }
    }
    found.sort_by(|a, b| {
        b.0.because
            .cmp(&a.0.because)
            .then(a.1.total_cmp(&b.1))
            .then((a.0.first, a.0.second).cmp(&(b.0.first, b.0.second)))
    });
    let mut taken = vec![false; clips.len()];
    let mut pairs = Vec::new();
    for (pair, _) in found {
        if !taken[pair.first] && !taken[pair.second] {
            (taken[pair.first], taken[pair.second]) = (true, true);
            pairs.push(pair);
        }
    }
    pairs
}

/// What speaks for two clips showing one swing, and how far they are apart by it, s; none if nothing does, or their views or
/// clocks speak against it.
fn evidence(a: &Filmed, b: &Filmed) -> Option<(Because, f64)> {
    if a.view.is_some() && a.view == b.view {
        return None;
    }
    if let Some(apart_s) = same_delays(&a.strikes_s, &b.strikes_s) {
        return Some((Because::SameStrikes, apart_s));
    }
    if let (Some(a_s), Some(b_s)) = (struck_s(a), struck_s(b)) {
        let apart_s = (a_s - b_s).abs();
        return (apart_s <= CLOCKS_DIFFER_S).then_some((Because::SameTime, apart_s));
    }
    let apart_s = (a.came_s - b.came_s).abs();
    let both = a.view.is_some() && b.view.is_some();
    (both && apart_s <= COME_TOGETHER_S).then_some((Because::CameTogether, apart_s))
}

/// When the last strike was by the camera's clock; where none was heard, when filming began.
fn struck_s(clip: &Filmed) -> Option<f64> {
    Some(clip.from_s? + clip.strikes_s.last().copied().unwrap_or(0.0))
}

/// The largest difference between the delays of two clips' strikes, if it is small and there are delays at all.
fn same_delays(a: &[f64], b: &[f64]) -> Option<f64> {
    if a.len() < 2 || a.len() != b.len() {
        return None;
    }
    let delays =
        |strikes: &[f64]| -> Vec<f64> { strikes.windows(2).map(|w| w[1] - w[0]).collect() };
    let differ = delays(a).into_iter().zip(delays(b));
    let apart_s = differ.map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
    (apart_s <= DELAYS_DIFFER_S).then_some(apart_s)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn clip(view: Option<View>, from_s: Option<f64>, came_s: f64, strikes_s: &[f64]) -> Filmed {
        Filmed {
            view,
            from_s,
            came_s,
            strikes_s: strikes_s.to_vec(),
        }
    }

    const FACE: Option<View> = Some(View::FaceOn);
    const LINE: Option<View> = Some(View::DownTheLine);

    #[test]
    fn clips_of_one_strike_are_paired_by_the_cameras_clocks() {
        let clips = [
            clip(FACE, Some(100.0), 900.0, &[2.0]),
            clip(FACE, Some(160.0), 901.0, &[1.5]),
            clip(LINE, Some(159.0), 902.0, &[3.0]),
            clip(LINE, Some(101.0), 903.0, &[1.2]),
        ];
        let found: Vec<_> = pairs(&clips)
            .iter()
            .map(|p| (p.first, p.second, p.because))
            .collect();
        assert_eq!(
            found,
            [(0, 3, Because::SameTime), (1, 2, Because::SameTime)]
        );
    }

    #[test]
    fn the_same_delays_outweigh_clocks_that_are_an_hour_off() {
        let clips = [
            clip(None, Some(0.0), 0.0, &[2.0, 9.5, 17.25]),
            clip(None, Some(3600.0), 5.0, &[4.0, 11.51, 19.26]),
            clip(None, Some(1.0), 6.0, &[2.0, 9.0, 17.0]),
        ];
        let found = pairs(&clips);
        assert_eq!((found[0].first, found[0].second), (0, 1));
        assert_eq!(found[0].because, Because::SameStrikes);
    }

    #[test]
    fn two_of_one_view_minutes_apart_or_of_unknown_view_are_no_pair() {
        for (what, a, b) in [
            (
                "one view",
                clip(FACE, None, 0.0, &[1.0]),
                clip(FACE, None, 1.0, &[1.0]),
            ),
            (
                "unknown view",
                clip(None, None, 0.0, &[1.0]),
                clip(LINE, None, 1.0, &[1.0]),
            ),
            (
                "long apart",
                clip(FACE, None, 0.0, &[]),
                clip(LINE, None, 901.0, &[]),
            ),
            (
                "clocks disagree",
                clip(FACE, Some(0.0), 0.0, &[1.0]),
                clip(LINE, Some(60.0), 1.0, &[1.0]),
            ),
        ] {
            assert_eq!(pairs(&[a, b]), [], "{what}");
        }
        let together = [
            clip(FACE, None, 0.0, &[1.0]),
            clip(LINE, None, 20.0, &[1.1]),
        ];
        assert_eq!(pairs(&together)[0].because, Because::CameTogether);
    }
}
