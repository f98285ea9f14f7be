//! What was seen or measured of one ball, as the professional says it: left and right as seen
//! toward the target, every item optional.
//!
//! Numbers are + to the right of the target, for both hands; metres, m/s and radians.

use super::clubs::ClubKind;
use lessonwright_model::Hand;
use serde::{Deserialize, Serialize};

/// One ball. Nothing is assumed of what is None.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct SeenBall {
    /// Where it started.
    pub start: Option<Start>,
    /// How it curved.
    pub curve: Option<Curve>,
    /// How high it flew.
    pub height: Option<Height>,
    /// How far it flew before landing, m, by eye or a rangefinder.
    pub carry_m: Option<f64>,
    /// Where on the face it was struck, by the mark it left.
    pub strike: Option<Strike>,
    /// A strike that is none of the nine flights.
    pub spoilt: Option<Spoilt>,
    /// What a device measured.
    pub measured: Measured,
}

/// A ball as it was told, by whom it was struck and with what: what is kept of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ToldBall {
    /// The hand the player plays.
    pub hand: Hand,
    /// The club, where it was said.
    pub club: Option<ClubKind>,
    /// What was told.
    pub ball: SeenBall,
}

/// Left or right, seen toward the target.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[expect(missing_docs, reason = "left is left")]
pub enum Way {
    Left,
    Right,
}

/// The line on which a ball left, against the target line.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Start {
    /// On the target line, as far as the eye can tell.
    Straight,
    /// Plainly off it.
    To(Way),
    /// By so much, rad; + right. An estimate, against a stick or a known target.
    About(f64),
}

/// How a ball left its own start line.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Curve {
    /// Not to be seen.
    None,
    /// To a side, by a rough amount.
    To(Way, Bend),
    /// It landed so far beside its start line, m; + right. An estimate.
    About(f64),
}

/// A rough amount of curve.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Bend {
    /// A draw or a fade.
    Slight,
    /// A hook or a slice.
    Clear,
    /// Off the fairway from its middle.
    Big,
}

/// How high a ball flew, for its club.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[expect(missing_docs, reason = "plain words")]
pub enum Height {
    Low,
    Usual,
    High,
}

/// A place on the face.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Strike {
    /// Within a ball mark of the middle.
    Centre,
    /// Plainly toward the toe.
    Toe,
    /// Plainly toward the heel, still on the face.
    Heel,
    /// Above the middle.
    High,
    /// Below the middle.
    Low,
}

/// A strike that says little of the face.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Spoilt {
    /// Ground before ball.
    Fat,
    /// The leading edge at the ball's middle.
    Thin,
    /// The ball's upper half.
    Top,
    /// The hosel.
    Shank,
    /// The crown or the top of a wood's face.
    Sky,
}

/// Numbers of any device. Angles rad, + right or up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Measured {
    /// Ball speed, m/s.
    pub ball_speed_m_s: Option<f64>,
    /// Launch angle above the level.
    pub launch_rad: Option<f64>,
    /// Start direction.
    pub start_rad: Option<f64>,
    /// Spin about its axis, rad/s.
    pub spin_rad_s: Option<f64>,
    /// Tilt of the spin axis, seen along the flight: atan(side spin / back spin).
    pub axis_rad: Option<f64>,
    /// Carry, m.
    pub carry_m: Option<f64>,
    /// Landing beside the target line, m.
    pub side_m: Option<f64>,
    /// Highest point, m.
    pub apex_m: Option<f64>,
    /// Club speed, m/s.
    pub club_speed_m_s: Option<f64>,
    /// Club path.
    pub path_rad: Option<f64>,
    /// Face angle against the target line.
    pub face_rad: Option<f64>,
    /// Attack angle.
    pub attack_rad: Option<f64>,
    /// Dynamic loft.
    pub loft_rad: Option<f64>,
    /// Strike from the middle of the face toward the toe, m.
    pub toward_toe_m: Option<f64>,
}

impl Way {
    /// +1 for right.
    pub fn sign(self) -> f64 {
        match self {
            Way::Left => -1.0,
            Way::Right => 1.0,
        }
    }

    fn other(self) -> Way {
        match self {
            Way::Left => Way::Right,
            Way::Right => Way::Left,
        }
    }
}

impl SeenBall {
    /// The same ball seen in a mirror that stands along the target line.
    pub fn mirrored(&self) -> SeenBall {
        SeenBall {
            start: self.start.map(|start| match start {
                Start::Straight => Start::Straight,
                Start::To(way) => Start::To(way.other()),
                Start::About(rad) => Start::About(-rad),
            }),
            curve: self.curve.map(|curve| match curve {
                Curve::None => Curve::None,
                Curve::To(way, bend) => Curve::To(way.other(), bend),
                Curve::About(metres) => Curve::About(-metres),
            }),
            measured: Measured {
                start_rad: self.measured.start_rad.map(|x| -x),
                axis_rad: self.measured.axis_rad.map(|x| -x),
                side_m: self.measured.side_m.map(|x| -x),
                path_rad: self.measured.path_rad.map(|x| -x),
                face_rad: self.measured.face_rad.map(|x| -x),
                ..self.measured
            },
            ..self.clone()
        }
    }

    /// The same ball without numbers that are not finite.
    pub fn finite(&self) -> SeenBall {
        let kept = |number: Option<f64>| number.filter(|value| value.is_finite());
        let m = self.measured;
        SeenBall {
            start: self
                .start
                .filter(|start| !matches!(start, Start::About(rad) if !rad.is_finite())),
            curve: self
                .curve
                .filter(|curve| !matches!(curve, Curve::About(m) if !m.is_finite())),
            carry_m: kept(self.carry_m),
            measured: Measured {
                ball_speed_m_s: kept(m.ball_speed_m_s),
                launch_rad: kept(m.launch_rad),
                start_rad: kept(m.start_rad),
                spin_rad_s: kept(m.spin_rad_s),
                axis_rad: kept(m.axis_rad),
                carry_m: kept(m.carry_m),
                side_m: kept(m.side_m),
                apex_m: kept(m.apex_m),
                club_speed_m_s: kept(m.club_speed_m_s),
                path_rad: kept(m.path_rad),
                face_rad: kept(m.face_rad),
                attack_rad: kept(m.attack_rad),
                loft_rad: kept(m.loft_rad),
                toward_toe_m: kept(m.toward_toe_m),
            },
            ..self.clone()
        }
    }

    /// Carry, the device's before the eye's.
    pub fn carry_m(&self) -> Option<f64> {
        self.measured.carry_m.or(self.carry_m)
    }

    /// Start direction in numbers, the device's before the eye's.
    pub fn start_rad(&self) -> Option<f64> {
        self.measured.start_rad.or(match self.start {
            Some(Start::About(rad)) => Some(rad),
            _ => None,
        })
    }

    /// Distance of the landing beside the start line, m: measured landing − carry · sin(start), or
    /// what was said.
    pub fn curve_m(&self) -> Option<f64> {
        let Measured {
            side_m,
            carry_m,
            start_rad,
            ..
        } = self.measured;
        match (side_m, carry_m, start_rad, self.curve) {
            (Some(side), Some(carry), Some(start), _) => Some(side - carry * start.sin()),
            (_, _, _, Some(Curve::About(metres))) => Some(metres),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mirror_twice_is_none() {
        let ball = SeenBall {
            start: Some(Start::To(Way::Left)),
            curve: Some(Curve::About(12.0)),
            strike: Some(Strike::Toe),
            measured: Measured {
                start_rad: Some(0.02),
                face_rad: Some(-0.01),
                attack_rad: Some(-0.05),
                ..Measured::default()
            },
            ..SeenBall::default()
        };
        assert_eq!(ball.mirrored().mirrored(), ball);
        assert_eq!(ball.mirrored().start, Some(Start::To(Way::Right)));
        assert_eq!(ball.mirrored().measured.attack_rad, Some(-0.05));
    }

    #[test]
    fn the_curve_is_counted_from_the_start_line() {
        let measured = Measured {
            carry_m: Some(200.0),
            side_m: Some(5.0),
            start_rad: Some((-3.0_f64).to_radians()),
            ..Measured::default()
        };
        let ball = SeenBall {
            measured,
            ..SeenBall::default()
        };
        // 5 + 200·sin 3° = 15.47.
        assert!((ball.curve_m().unwrap() - 15.467).abs() < 1e-3);
    }
}
