//! The ball: where it lies, and when it is gone.

use crate::clock::Clock;
use crate::moments::Timed;
use lessonwright_math::median;
use lessonwright_model::{ClubGlance, ClubTrack, PixelPoint};

/// A ball with this probability is seen.
const SEEN: f64 = 0.5;
/// One that the network is sure of: within 0.08 s before the strike never a mark on the ground, in 94 clips.
const SURE: f64 = 0.9;
const ABOUT_TO_GO_S: f64 = 0.08;
/// Pictures that are to show it at least.
const LEAST_PICTURES: usize = 2;
/// Places of one ball agree within this, px of the network's (1 % of the stature in 2).
const AGREE: f64 = 4.0;
/// The strike falls this near to where the hands put it, s.
const AROUND_S: f64 = 0.13;
/// Longest step over which it can be told when the ball went, s.
const LONGEST_GAP_S: f64 = 0.06;
/// How well the share of a gap is told (sd): as the network's probability falls within it.
const WITHIN_GAP: f64 = 0.3;

/// Where the ball lies until it is struck at `struck_s`, px, if the club leaves it at `away_s` (both real). Pictures just
/// before the strike tell first: the network sees that the ball is there and gone in the next, as no mark on the ground
/// is. Then those of the club away: at address the head, white and round, may be taken for the ball behind which it stands.
pub fn ball_at_rest(
    track: &ClubTrack,
    clock: Clock,
    away_s: f64,
    struck_s: f64,
) -> Option<PixelPoint> {
    let ever = f64::NEG_INFINITY;
    [
        (struck_s - ABOUT_TO_GO_S, struck_s, SURE, 1),
        (away_s, struck_s, SEEN, LEAST_PICTURES),
        (ever, away_s, SEEN, LEAST_PICTURES),
        (ever, struck_s, SEEN, LEAST_PICTURES),
    ]
    .into_iter()
    .find_map(|(from_s, to_s, seen, least)| {
        let showing = track
            .glances
            .iter()
            .filter(|g| (from_s..=to_s).contains(&clock.real(g.time_s)) && g.ball_seen > seen);
        agreed(&showing.collect::<Vec<_>>(), least)
    })
}

/// Where most of these pictures, and `least` of them, have the ball, px.
fn agreed(showing: &[&ClubGlance], least: usize) -> Option<PixelPoint> {
    let coordinate =
        |of: fn(&ClubGlance) -> f64| median(&showing.iter().map(|g| of(g)).collect::<Vec<_>>());
    let middle = PixelPoint {
        x: coordinate(|g| g.ball.x)?,
        y: coordinate(|g| g.ball.y)?,
    };
    let agree = |g: &&&ClubGlance| g.ball.distance(middle) < AGREE * g.px;
    let count = showing.iter().filter(agree).count();
    (count >= least && 2 * count > showing.len()).then_some(middle)
}

/// When the ball is struck: between the last picture that shows it at rest and the first that does not,
/// near `strike_s` (real). `None` where the pictures leave a doubt.
pub(crate) fn ball_gone(track: &ClubTrack, clock: Clock, strike_s: f64) -> Option<Timed> {
    let near: Vec<&ClubGlance> = track
        .glances
        .iter()
        .filter(|g| (clock.real(g.time_s) - strike_s).abs() < AROUND_S)
        .collect();
    let last = near.iter().rposition(|g| g.ball_seen > SEEN)?;
    let (before, after) = (near[..=last].iter().rev(), &near[last + 1..]);
    let first = after.first()?;
    let at_rest = before
        .take_while(|g| g.ball_seen > SEEN)
        .filter(|g| g.ball.distance(near[last].ball) < AGREE * g.px)
        .count();
    let gap_s = clock.real(first.time_s) - clock.real(near[last].time_s);
    if at_rest < LEAST_PICTURES || after.len() < LEAST_PICTURES || gap_s > LONGEST_GAP_S {
        return None;
    }
    let share = (near[last].ball_seen - SEEN) / (near[last].ball_seen - first.ball_seen);
    Some(Timed {
        time_s: clock.real(near[last].time_s) + share * gap_s,
        sd_s: WITHIN_GAP * gap_s,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn track(seen: &[f64]) -> ClubTrack {
        let glances = seen.iter().enumerate().map(|(i, &ball_seen)| ClubGlance {
            frame: i,
            time_s: i as f64 / 60.0,
            grip: PixelPoint::default(),
            px: 2.0,
            rays: Vec::new(),
            head_seen: 0.0,
            shaft_seen: 0.0,
            ball_seen,
            ball: PixelPoint {
                x: 100.0 + (i % 2) as f64,
                y: 400.0,
            },
        });
        ClubTrack {
            width_px: 432,
            height_px: 768,
            glances: glances.collect(),
            flight: Vec::new(),
        }
    }

    #[test]
    fn a_ball_is_struck_between_the_pictures_that_show_it_and_those_that_do_not() {
        let track = track(&[0.1, 0.9, 0.9, 0.9, 0.1, 0.0, 0.0]);
        let gone = ball_gone(&track, Clock::exact(), 0.06).expect("struck");
        assert!((gone.time_s - 3.5 / 60.0).abs() < 1e-9, "{gone:?}");
        let place = ball_at_rest(&track, Clock::exact(), 0.0, 0.05).expect("at rest");
        assert!((place.x - 100.5).abs() <= 0.5 && place.y == 400.0);
    }

    #[test]
    fn a_ball_that_comes_and_goes_tells_nothing() {
        assert!(
            ball_gone(
                &track(&[0.9, 0.1, 0.9, 0.1, 0.1, 0.1]),
                Clock::exact(),
                0.04
            )
            .is_none()
        );
        assert!(ball_gone(&track(&[0.9, 0.9, 0.9, 0.9]), Clock::exact(), 0.04).is_none());
        assert!(ball_at_rest(&track(&[0.1, 0.9, 0.1]), Clock::exact(), 0.0, 1.0).is_none());
    }

    #[test]
    fn a_ball_about_to_go_tells_where_it_lies_among_marks_that_stay() {
        let mut track = track(&[0.7; 12]);
        for glance in &mut track.glances[..11] {
            glance.ball.x -= 40.0;
        }
        track.glances[11].ball_seen = 0.95;
        let struck_s = 11.5 / 60.0;
        let place = ball_at_rest(&track, Clock::exact(), 3.5 / 60.0, struck_s).expect("at rest");
        assert!((place.x - 101.0).abs() < 0.1, "{place:?}");
        // Not sure, it is outvoted.
        track.glances[11].ball_seen = 0.85;
        let place = ball_at_rest(&track, Clock::exact(), 3.5 / 60.0, struck_s).expect("at rest");
        assert!((place.x - 60.5).abs() <= 0.5, "{place:?}");
    }

    #[test]
    fn a_head_that_passes_for_the_ball_at_address_does_not_once_it_is_away() {
        let mut track = track(&[0.9; 12]);
        for glance in &mut track.glances[..8] {
            glance.ball.x -= 40.0;
        }
        let place = ball_at_rest(&track, Clock::exact(), 7.5 / 60.0, 0.2).expect("at rest");
        assert!((place.x - 100.5).abs() <= 0.5, "{place:?}");
        // Never seen with the club away, it is where it was seen before.
        for glance in &mut track.glances[8..] {
            glance.ball_seen = 0.1;
        }
        let place = ball_at_rest(&track, Clock::exact(), 7.5 / 60.0, 0.2).expect("at rest");
        assert!((place.x - 60.5).abs() <= 0.5, "{place:?}");
    }
}
