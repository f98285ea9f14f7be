//! Which way the ball starts in the picture, down the line: of the small bright things that move after the strike, those
//! that lie on one line from where it lay, ever slower, as a thing does that flies away.
//!
//! A ball that flies straight at one speed shows at `s(τ) = v τ / (1 + κ τ)` px along a straight line, τ after impact:
//! κ is its speed away from the camera over its distance (perspective). Two spots of two pictures give v and κ; the
//! pair that most pictures agree with wins. Rows exposed one after another move spots along that line only.

use super::ball::{ball_at_rest, ball_gone};
use crate::clock::Clock;
use lessonwright_math::angle::wrap;
use lessonwright_model::{ClubTrack, PixelPoint, Spot};
use std::f64::consts::FRAC_PI_2;

/// A ball's diameter in the network's pixels: 4.3 cm where one is 0.9 cm.
const BALL: f64 = 4.5;
/// … and in metres (Rules of Golf, equipment rules).
const BALL_M: f64 = 0.0427;
/// Pictures are looked at from this long before the strike to this long after, s.
const BEFORE_S: f64 = 0.02;
const AFTER_S: f64 = 0.11;
/// The club is on its way for so long before it strikes at least, s: two thirds of the quickest backswings and the way down.
const AWAY_S: f64 = 0.7;
/// The ball is looked for so long after impact, s: later it is two pixels wide or behind a screen.
const FLIGHT_S: f64 = 0.085;
/// Impact is tried this early and late, s.
const IMPACT_OFF_S: [f64; 5] = [-0.006, -0.003, 0.0, 0.003, 0.006];
/// From upright in the picture at most: the line leads to where the flight's parallel through the camera points, above
/// the horizon, and a ball a metre beside the camera's line starts 45° aslant at most.
const FROM_UPRIGHT_RAD: f64 = 0.96;
/// κ, 1/s: 25 to 80 m/s away from a camera 3 to 8 m behind the ball.
const LEAST_KAPPA: f64 = 3.0;
const MOST_KAPPA: f64 = 28.0;
/// Apparent speed at the start, m/s at the ball's distance.
const SPEED_M_S: [f64; 2] = [5.0, 70.0];
/// Spots stray from the line by this (sd), px, and from their place along it by a tenth.
const STRAY_PX: f64 = 0.8;
const ON_THE_LINE_PX: f64 = 2.4;
const ALONG_SHARE: f64 = 0.1;
const ALONG_LEAST_PX: f64 = 2.5;
/// The place where the ball lay is off by this (sd), px.
const REST_SD_PX: f64 = 2.0;
/// A ball is told from what else moves where it is this large, px, and this far from its place, diameters.
const LEAST_BALL_PX: f64 = 2.2;
const CLEAR_OF_CLUB: f64 = 1.2;
/// A disc's spread along a line is a quarter of its diameter; what is told of a ball lies between these.
const SPREAD_OF_BALL: [f64; 2] = [0.1, 0.5];
/// A picture that should show the ball and does not counts against it by this.
const MISSED: f64 = 0.7;
/// Pictures that agree at least, and what they come to. On 24 tuning swings every line below that was wrong as often as
/// right, every one above it right.
const LEAST_PICTURES: usize = 5;
const LEAST_SCORE: f64 = 3.5;

/// The stretch of a clip in which to look for the ball in flight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlightStretch {
    /// Where the ball lies before, px.
    pub ball: PixelPoint,
    /// Its diameter there, px.
    pub ball_px: f64,
    /// Where the stretch begins and ends, s of the file's clock.
    pub span_s: [f64; 2],
}

/// Where to look; `strike_s` (real) is about when the ball is struck. `None` where no ball was seen at rest.
pub fn flight_stretch(track: &ClubTrack, clock: Clock, strike_s: f64) -> Option<FlightStretch> {
    let struck_s = ball_gone(track, clock, strike_s).map_or(strike_s, |gone| gone.time_s);
    let (ball, ball_px) = ball_before(track, clock, struck_s)?;
    Some(FlightStretch {
        ball,
        ball_px,
        span_s: [struck_s - BEFORE_S, struck_s + AFTER_S].map(|s| clock.file(s)),
    })
}

fn ball_before(track: &ClubTrack, clock: Clock, struck_s: f64) -> Option<(PixelPoint, f64)> {
    let ball = ball_at_rest(track, clock, struck_s - AWAY_S, struck_s)?;
    Some((ball, BALL * track.glances.first()?.px))
}

/// The way the ball starts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BallStart {
    /// In the picture, radians from right, plus clockwise as seen.
    pub angle_rad: f64,
    /// Its standard deviation, radians.
    pub sd_rad: f64,
}

/// The way the ball starts in a clip from down the line, struck at `impact_s` (real), or why it can't be told.
pub(crate) fn ball_start(
    track: &ClubTrack,
    clock: Clock,
    impact_s: f64,
) -> Result<BallStart, String> {
    let (ball, ball_px) =
        ball_before(track, clock, impact_s).ok_or("the ball was not seen before it was struck")?;
    let sight = Sight {
        ball,
        ball_px,
        size_px: [track.width_px, track.height_px].map(f64::from),
    };
    let pictures: Vec<Picture> = track
        .flight
        .iter()
        .map(|glance| Picture {
            after_s: clock.real(glance.time_s) - impact_s,
            spots: glance.spots.iter().map(|s| sight.away(s)).collect(),
        })
        .filter(|p| p.after_s > IMPACT_OFF_S[0] && p.after_s < FLIGHT_S)
        .collect();
    if pictures.len() < LEAST_PICTURES {
        return Err(format!(
            "{} pictures in the first {:.0} ms of flight; {LEAST_PICTURES} that show the ball are needed: \
             film at 120 frames a second or more",
            pictures.len(),
            1000.0 * FLIGHT_S
        ));
    }
    let best = IMPACT_OFF_S
        .iter()
        .filter_map(|off_s| sight.best(&pictures, *off_s))
        .max_by(|a, b| a.score.total_cmp(&b.score))
        .filter(|way| way.spots.len() >= LEAST_PICTURES && way.score >= LEAST_SCORE);
    let way = best.ok_or("the ball was not made out in flight among what else moves")?;
    Ok(sight.line(&way))
}

/// Spots of one picture, as seen from where the ball lay.
struct Picture {
    after_s: f64,
    spots: Vec<Away>,
}

/// How far from where the ball lay, px, in which direction, and how wide square to that.
#[derive(Clone, Copy)]
struct Away {
    far_px: f64,
    angle_rad: f64,
    across_px: f64,
}

/// A way that a ball could take, and the spots that lie on it.
struct Way {
    angle_rad: f64,
    speed_px_s: f64,
    kappa: f64,
    score: f64,
    spots: Vec<Away>,
}

/// The picture with the ball at rest.
struct Sight {
    ball: PixelPoint,
    ball_px: f64,
    size_px: [f64; 2],
}

impl Sight {
    fn away(&self, spot: &Spot) -> Away {
        let (x, y) = (spot.at.x - self.ball.x, spot.at.y - self.ball.y);
        Away {
            far_px: x.hypot(y),
            angle_rad: y.atan2(x),
            across_px: spot.across_px,
        }
    }

    /// The way that most pictures agree with, if impact was `off_s` later.
    fn best(&self, pictures: &[Picture], off_s: f64) -> Option<Way> {
        let mut best: Option<Way> = None;
        for (number, first) in pictures.iter().enumerate() {
            for second in &pictures[number + 1..] {
                let times_s = [first, second].map(|p| p.after_s - off_s);
                if times_s[0] <= 0.001 {
                    continue;
                }
                for a in &first.spots {
                    for b in &second.spots {
                        let Some(mut way) = self.through([a, b], times_s) else {
                            continue;
                        };
                        self.judge(&mut way, pictures, off_s);
                        if best.as_ref().is_none_or(|best| way.score > best.score) {
                            best = Some(way);
                        }
                    }
                }
            }
        }
        best
    }

    /// The way through two spots, if a ball could take it.
    fn through(&self, [a, b]: [&Away; 2], [a_s, b_s]: [f64; 2]) -> Option<Way> {
        let off = wrap(b.angle_rad - a.angle_rad);
        if b.far_px < a.far_px + 2.0 || off.abs() * a.far_px > ON_THE_LINE_PX {
            return None;
        }
        let [wa, wb] = [a, b].map(|s| s.far_px.powi(2));
        let angle_rad = a.angle_rad + off * wb / (wa + wb);
        // τ / s = 1 / v + (κ / v) τ
        let (ya, yb) = (a_s / a.far_px, b_s / b.far_px);
        let slope = (yb - ya) / (b_s - a_s);
        let speed_px_s = 1.0 / (ya - slope * a_s);
        let kappa = slope * speed_px_s;
        let speed_m_s = speed_px_s * BALL_M / self.ball_px;
        let may_be = wrap(angle_rad + FRAC_PI_2).abs() < FROM_UPRIGHT_RAD
            && (LEAST_KAPPA..MOST_KAPPA).contains(&kappa)
            && (SPEED_M_S[0]..SPEED_M_S[1]).contains(&speed_m_s);
        may_be.then(|| Way {
            angle_rad,
            speed_px_s,
            kappa,
            score: 0.0,
            spots: Vec::new(),
        })
    }

    /// Counts the pictures that show a ball where the way says.
    fn judge(&self, way: &mut Way, pictures: &[Picture], off_s: f64) {
        let (sin, cos) = way.angle_rad.sin_cos();
        for picture in pictures {
            let after_s = picture.after_s - off_s;
            let nearer = 1.0 + way.kappa * after_s;
            let far_px = way.speed_px_s * after_s / nearer;
            let size_px = self.ball_px / nearer;
            let at = [self.ball.x + far_px * cos, self.ball.y + far_px * sin];
            let inside = (0..2).all(|k| at[k] > 3.0 && at[k] < self.size_px[k] - 3.0);
            let clear = after_s > 0.001 && far_px > CLEAR_OF_CLUB * self.ball_px;
            if !clear || !inside || size_px < LEAST_BALL_PX {
                continue;
            }
            let misfit = |spot: &Away| {
                let beside = wrap(spot.angle_rad - way.angle_rad) * spot.far_px / ON_THE_LINE_PX;
                let along = (spot.far_px - far_px) / (ALONG_SHARE * far_px).max(ALONG_LEAST_PX);
                let [least, most] = SPREAD_OF_BALL.map(|share| share * size_px);
                let fits = beside.abs() < 1.0
                    && along.abs() < 1.0
                    && (least..most).contains(&spot.across_px);
                fits.then_some((beside * beside + 0.5 * along * along, *spot))
            };
            let nearest = picture
                .spots
                .iter()
                .filter_map(misfit)
                .min_by(|a, b| a.0.total_cmp(&b.0));
            match nearest {
                Some((misfit, spot)) => {
                    way.score += 1.0 - 0.5 * misfit;
                    way.spots.push(spot);
                }
                None => way.score -= MISSED,
            }
        }
    }

    /// The line through the spots of a way, and loosely through where the ball lay: `beside = a + b · along`, weighted
    /// least squares, with a = 0 ± [`REST_SD_PX`].
    fn line(&self, way: &Way) -> BallStart {
        let points: Vec<[f64; 2]> = way
            .spots
            .iter()
            .map(|spot| {
                let (sin, cos) = wrap(spot.angle_rad - way.angle_rad).sin_cos();
                [spot.far_px * cos, spot.far_px * sin]
            })
            .collect();
        let weight = STRAY_PX.powi(-2);
        let sum = |of: fn(&[f64; 2]) -> f64| weight * points.iter().map(of).sum::<f64>();
        let n = sum(|_| 1.0) + REST_SD_PX.powi(-2);
        let (x, xx) = (sum(|p| p[0]), sum(|p| p[0] * p[0]));
        let (y, xy) = (sum(|p| p[1]), sum(|p| p[0] * p[1]));
        let determinant = n * xx - x * x;
        let (a, b) = (
            (xx * y - x * xy) / determinant,
            (n * xy - x * y) / determinant,
        );
        let misfit = points
            .iter()
            .map(|p| (p[1] - a - b * p[0]).powi(2))
            .sum::<f64>();
        let stray_px = (misfit / (points.len() - 1) as f64).sqrt().max(STRAY_PX);
        BallStart {
            angle_rad: wrap(way.angle_rad + b.atan()),
            sd_rad: (n / determinant).sqrt() * stray_px / STRAY_PX,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_model::{ClubGlance, FlightGlance};

    const REST: PixelPoint = PixelPoint { x: 280.0, y: 620.0 };
    const UPRIGHT: f64 = -FRAC_PI_2;

    /// A ball that starts at `angle_rad`, and a head that follows it on a bow, filmed `rate_hz` times a second.
    fn filmed(rate_hz: f64, angle_rad: f64, ball_is_seen: bool) -> ClubTrack {
        let glance = |frame: usize| ClubGlance {
            frame,
            time_s: frame as f64 / rate_hz,
            grip: PixelPoint::default(),
            px: 2.3,
            rays: Vec::new(),
            head_seen: 0.0,
            shaft_seen: 0.0,
            ball_seen: 0.9,
            ball: REST,
        };
        let spot = |far_px: f64, angle_rad: f64, across_px: f64| Spot {
            at: PixelPoint {
                x: REST.x + far_px * angle_rad.cos(),
                y: REST.y + far_px * angle_rad.sin(),
            },
            across_px,
        };
        let flight = (1..)
            .map(|i| f64::from(i) / rate_hz)
            .take_while(|after_s| *after_s < FLIGHT_S)
            .map(|after_s| {
                let nearer = 1.0 + 11.0 * after_s;
                let mut spots = vec![
                    spot(2600.0 * after_s, UPRIGHT - 20.0 * after_s, 2.5),
                    spot(90.0, UPRIGHT + 0.4, 3.0),
                ];
                if ball_is_seen {
                    spots.push(spot(6000.0 * after_s / nearer, angle_rad, 2.6 / nearer));
                }
                FlightGlance {
                    time_s: 0.5 + after_s,
                    spots,
                }
            });
        ClubTrack {
            width_px: 432,
            height_px: 768,
            glances: (0..8).map(glance).collect(),
            flight: flight.collect(),
        }
    }

    #[test]
    fn the_ball_is_told_from_the_head_that_follows_it() {
        for (rate_hz, off_s) in [(120.0, 0.0), (240.0, 0.002), (240.0, -0.003)] {
            let track = filmed(rate_hz, UPRIGHT - 0.2, true);
            let start = ball_start(&track, Clock::exact(), 0.5 + off_s).expect("a ball flies");
            assert!(
                wrap(start.angle_rad - UPRIGHT + 0.2).abs() < 1e-6,
                "{rate_hz} {off_s}: {start:?}"
            );
            assert!((0.001..0.01).contains(&start.sd_rad), "{start:?}");
        }
    }

    #[test]
    fn what_is_no_ball_is_not_taken_for_one() {
        let none = ball_start(&filmed(240.0, UPRIGHT, false), Clock::exact(), 0.5);
        assert!(none.unwrap_err().contains("not made out"));
        let slow = ball_start(&filmed(30.0, UPRIGHT, true), Clock::exact(), 0.5);
        assert!(slow.unwrap_err().contains("120 frames a second"));
        let mut no_ball = filmed(240.0, UPRIGHT, true);
        no_ball.glances.iter_mut().for_each(|g| g.ball_seen = 0.1);
        let unseen = ball_start(&no_ball, Clock::exact(), 0.5);
        assert!(unseen.unwrap_err().contains("not seen before"));
    }
}
