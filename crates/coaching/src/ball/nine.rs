//! The nine flights and the spoilt strikes, from what was seen: reference values H.
//!
//! Height is none of them here: a ball may fly high and well.
//!
//! In the player's world (see [`super`]): right is the trail side, left the lead side.

use super::infer::told::{NO_CURVE, SLIGHT_CURVE, side_of_start};
use super::seen::{Bend, Curve, SeenBall, Spoilt, Strike, Way};
use crate::flight::Flight;

/// Where a ball curved and whether a player would call that wanted.
type Bent = Option<(Way, Bend)>;

/// The flights of a ball: one of the nine where start and curve allow, then what spoilt it.
/// `curve_of_carry` is the curve in numbers, where there are any.
pub(super) fn flights(ball: &SeenBall, curve_of_carry: Option<f64>) -> Vec<Flight> {
    let of_nine =
        bent(ball, curve_of_carry).and_then(|curve| one_of_nine(side_of_start(ball), curve));
    let spoilt = ball.spoilt.map(|spoilt| match spoilt {
        Spoilt::Fat => Flight::Fat,
        Spoilt::Thin => Flight::Thin,
        Spoilt::Top => Flight::Top,
        Spoilt::Shank => Flight::Shank,
        Spoilt::Sky => Flight::Sky,
    });
    let strike = match ball.strike {
        Some(Strike::Toe) => Some(Flight::Toe),
        Some(Strike::Heel) => Some(Flight::Heel),
        _ => None,
    };
    [of_nine, spoilt, strike].into_iter().flatten().collect()
}

/// None where nothing is known of the curve.
fn bent(ball: &SeenBall, curve_of_carry: Option<f64>) -> Option<Bent> {
    match (curve_of_carry, ball.curve) {
        (Some(curve), _) => {
            let way = if curve < 0.0 { Way::Left } else { Way::Right };
            let bend = if curve.abs() < SLIGHT_CURVE {
                Bend::Slight
            } else {
                Bend::Clear
            };
            Some((curve.abs() >= NO_CURVE).then_some((way, bend)))
        }
        (None, Some(Curve::None)) => Some(None),
        (None, Some(Curve::To(way, bend))) => Some(Some((way, bend))),
        (None, Some(Curve::About(_)) | None) => None,
    }
}

/// A slight curve back toward the target is wanted (a draw or a fade); a slight one farther away
/// is a pull or a push. A ball that does not curve is one of three only when its start is known.
fn one_of_nine(start: Option<Option<Way>>, curve: Bent) -> Option<Flight> {
    use {Bend::Slight, Way::Left, Way::Right};
    Some(match (start.flatten(), curve) {
        (None, None) => return start.map(|_| Flight::Straight),
        (None | Some(Left), Some((Right, Slight))) => Flight::Fade,
        (None | Some(Right), Some((Left, Slight))) => Flight::Draw,
        (None, Some((Right, _))) => Flight::Slice,
        (None, Some((Left, _))) => Flight::Hook,
        (Some(Left), None | Some((Left, Slight))) => Flight::Pull,
        (Some(Left), Some((Left, _))) => Flight::PullHook,
        (Some(Left), Some((Right, _))) => Flight::PullSlice,
        (Some(Right), None | Some((Right, Slight))) => Flight::Push,
        (Some(Right), Some((Right, _))) => Flight::PushSlice,
        (Some(Right), Some((Left, _))) => Flight::PushHook,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ball::seen::Start;
    use crate::flight::Told;

    fn seen(start: Start, curve: Curve) -> SeenBall {
        SeenBall {
            start: Some(start),
            curve: Some(curve),
            ..SeenBall::default()
        }
    }

    #[test]
    fn the_nine_flights_are_those_of_the_teaching_table() {
        // Reference values H, right-hander.
        let starts = [Start::To(Way::Left), Start::Straight, Start::To(Way::Right)];
        let curves = [
            Curve::To(Way::Left, Bend::Clear),
            Curve::None,
            Curve::To(Way::Right, Bend::Clear),
        ];
        let table = [
            [Flight::PullHook, Flight::Pull, Flight::PullSlice],
            [Flight::Hook, Flight::Straight, Flight::Slice],
            [Flight::PushHook, Flight::Push, Flight::PushSlice],
        ];
        for (start, row) in starts.into_iter().zip(table) {
            for (curve, flight) in curves.into_iter().zip(row) {
                assert_eq!(flights(&seen(start, curve), None), [flight]);
            }
        }
    }

    #[test]
    fn a_start_without_a_curve_is_no_flight() {
        let only_start = SeenBall {
            start: Some(Start::To(Way::Left)),
            ..SeenBall::default()
        };
        let only_straight = SeenBall {
            curve: Some(Curve::None),
            ..SeenBall::default()
        };
        assert_eq!(flights(&only_start, None), []);
        assert_eq!(flights(&only_straight, None), []);
    }

    #[test]
    fn a_spoilt_strike_is_told_beside_its_flight() {
        let ball = SeenBall {
            strike: Some(Strike::Heel),
            spoilt: Some(Spoilt::Thin),
            ..seen(Start::Straight, Curve::To(Way::Right, Bend::Slight))
        };
        assert_eq!(
            flights(&ball, None),
            [Flight::Fade, Flight::Thin, Flight::Heel]
        );
    }

    #[test]
    fn numbers_go_before_words() {
        let ball = seen(Start::About(-0.1), Curve::To(Way::Left, Bend::Big));
        assert_eq!(flights(&ball, Some(0.1)), [Flight::PullSlice]);
    }

    #[test]
    fn the_reasoning_reads_every_flight_back_from_its_name() {
        for flight in Flight::ALL {
            assert_eq!(
                Told::read(Some(flight.plain())),
                Told::Flights(vec![flight]),
                "{flight:?}"
            );
        }
    }
}
