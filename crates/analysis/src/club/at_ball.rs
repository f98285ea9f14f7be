//! The shaft at impact, face-on, from where it then is: with its head at the ball.
//!
//! At impact the club turns by 2° a millisecond, and the rows that show it are exposed up to 4 ms from the middle of the
//! picture: read at the instant, its direction is off by both. But then the head is where the ball lies, and the hands,
//! three times slower and near the middle of the picture, are well known: the shaft leads from the hands to the ball. By
//! how much it leads beside the ball's middle, the same club showed at address.

use super::shaft_at::{ShaftAt, polynomial, shaft_at};
use super::way::Shaft;
use crate::moments::Timed;
use lessonwright_math::angle::wrap;
use lessonwright_model::PixelPoint;

/// Pictures within this time of a moment tell where the grip is then, s.
const REACH_S: f64 = 0.045;
/// The grip's place in one picture is off by this share of the way to the ball (sd): 1 cm of 90.
const GRIP_SD: f64 = 0.012;

/// The shaft at `impact` with the head at `ball`, px, as at `address_s` (real). `None` where grip or shaft are not seen
/// near either.
pub(crate) fn shaft_at_ball(
    way: &[Shaft],
    ball: PixelPoint,
    address_s: f64,
    impact: Timed,
) -> Option<ShaftAt> {
    let address = shaft_at(way, address_s)?;
    let beside = wrap(address.angle_rad - toward(grip_at(way, address_s)?, ball));
    let [now, soon] = [0.0, 0.001].map(|later| grip_at(way, impact.time_s + later));
    let (now, soon) = (toward(now?, ball), toward(soon?, ball));
    Some(ShaftAt {
        angle_rad: wrap(now + beside),
        rate_rad_s: wrap(soon - now) / 0.001,
        sd_rad: address.sd_rad.hypot(GRIP_SD),
    })
}

fn toward(grip: PixelPoint, ball: PixelPoint) -> f64 {
    (ball.y - grip.y).atan2(ball.x - grip.x)
}

/// Where the grip is, on a parabola through the pictures nearby on both sides.
fn grip_at(way: &[Shaft], time_s: f64) -> Option<PixelPoint> {
    // A club at rest is looked at every 1/15 s: the nearest picture on either side counts in any case.
    let before = way.iter().rposition(|s| s.time_s <= time_s)?;
    let after = way.iter().position(|s| s.time_s >= time_s)?;
    let near: Vec<&Shaft> = way
        .iter()
        .enumerate()
        .filter(|(i, s)| *i == before || *i == after || (s.time_s - time_s).abs() < REACH_S)
        .map(|(_, s)| s)
        .collect();
    let degree = (near.len() - 1).min(2);
    let at = |of: fn(&Shaft) -> f64| {
        let points: Vec<[f64; 3]> = near
            .iter()
            .map(|s| [s.time_s - time_s, of(s), 1.0])
            .collect();
        polynomial(&points, degree).map(|fitted| fitted.terms[0])
    };
    Some(PixelPoint {
        x: at(|s| s.grip.x)?,
        y: at(|s| s.grip.y)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A club of 230 px whose hands move at 3 px a millisecond, filmed 60 times a second by a phone that shows the
    /// shaft's turn `late_s` late.
    fn way(late_s: f64) -> Vec<Shaft> {
        let lean = |t: f64| 0.1 + 35.0 * t;
        let shaft = |time_s: f64, grip_x: f64, lean_rad: f64| Shaft {
            frame: 0,
            time_s,
            grip: PixelPoint {
                x: grip_x,
                y: 480.0,
            },
            angle_rad: std::f64::consts::FRAC_PI_2 + lean_rad,
            sd_rad: 0.01,
            length_px: 200.0,
            head: None,
        };
        let address = (0..5).map(|i| shaft(f64::from(i) / 15.0, 240.0, 0.05));
        let down = (0..9).map(|i| {
            let t = f64::from(i - 4) / 60.0 + 0.004;
            shaft(2.0 + t, 251.5 + 3000.0 * t, lean(t + late_s))
        });
        address.chain(down).collect()
    }

    #[test]
    fn late_rows_do_not_lean_the_shaft() {
        // Head at 240 − 230 · tan 0.05 at address, the ball's middle 8 px toward the target of it.
        let ball = PixelPoint { x: 236.5, y: 710.0 };
        let impact = Timed {
            time_s: 2.0,
            sd_s: 0.001,
        };
        let found = shaft_at_ball(&way(0.004), ball, 0.2, impact).expect("seen");
        // From (251.5, 480) to the head at 228.5: 23 px in 230.
        let lean = found.angle_rad - std::f64::consts::FRAC_PI_2;
        assert!((lean - 0.1).abs() < 0.002, "{lean}");
        // 13 mrad a millisecond, where the shaft turns by 35.
        assert!((found.rate_rad_s - 13.0).abs() < 0.3, "{found:?}");
        let read = shaft_at(&way(0.004), 2.0).expect("seen");
        assert!((read.angle_rad - std::f64::consts::FRAC_PI_2 - 0.24).abs() < 0.01);
    }

    #[test]
    fn without_pictures_on_both_sides_nothing_is_told() {
        let impact = Timed {
            time_s: 5.0,
            sd_s: 0.001,
        };
        assert!(shaft_at_ball(&way(0.0), PixelPoint::default(), 0.2, impact).is_none());
    }
}
