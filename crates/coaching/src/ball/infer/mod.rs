//! From a ball to the club: face and path as ranges, and what can't be known.
//!
//! Monte Carlo propagation (JCGM 101:2008, *Propagation of distributions using a Monte Carlo
//! method*): what was told is drawn from what it is worth, what was not told from what is usual
//! ([`told`]), and the club is solved for exactly ([`guess`]). The range holds the middle 95 % of
//! the guesses, weighted by how well they agree with what was measured of the club. The guesses are
//! the same every time.

mod bend;
mod guess;
mod middle;
mod random;
pub(super) mod told;
mod withheld;
mod words;

use super::clubs::ClubKind;
use super::nine;
use super::seen::SeenBall;
use crate::flight::Flight;
use guess::{Guess, Guesser};
use lessonwright_language::{Say, Text, t};
use lessonwright_model::Hand;
pub use middle::{MiddleShot, middle_shots};
use random::Draws;
use serde::{Serialize, Serializer};
use words::Words;

/// Which part of the guesses a range holds.
pub const LEVEL: f64 = 0.95;

/// What one ball says of the club.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BallReading {
    /// The hand it was read for.
    pub hand: Hand,
    /// The kind of club; null if not told: any.
    pub club: Option<ClubKind>,
    /// Which part of the guesses each range holds.
    pub level: f64,
    /// Face angle at impact, at the middle of the face, against the target line.
    pub face: ClubAngle,
    /// Club path against the target line.
    pub path: ClubAngle,
    /// Face angle less path.
    pub face_to_path: ClubAngle,
    /// One of the nine flights, and what spoilt the strike.
    pub flights: Vec<Flight>,
    /// What can't be known from this ball, and why. Files have it in English.
    #[serde(serialize_with = "all_in_english")]
    pub unknown: Vec<Text>,
}

/// A range, degrees; + right of the target (of the path), for both hands. Null where withheld.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ClubAngle {
    /// The middle guess.
    pub value_deg: Option<f64>,
    /// Lower end.
    pub low_deg: Option<f64>,
    /// Upper end.
    pub high_deg: Option<f64>,
    /// Why it is withheld; in files English, and empty otherwise.
    #[serde(serialize_with = "or_empty_in_english")]
    pub reason: Option<Text>,
    /// The range, or why there is none, as a sentence for the professional; in files English.
    #[serde(serialize_with = "in_english")]
    pub says: Text,
}

/// Guesses made; with others the ends of a range move by less than a 25th of its width (a test).
const GUESSES: usize = 4096;
/// With fewer guesses' worth of agreement, what was told contradicts itself.
const LEAST_AGREEMENT: f64 = 40.0;
/// A range wider than this, degrees, that does not even tell the side helps nobody.
const WIDEST_DEG: f64 = 20.0;
const SEED: u64 = 20_261_126;

/// Reads one ball of a player who plays `hand`.
///
/// Withheld, with the reason: what the items told can't settle together, a ball that did not come
/// off the face, numbers that contradict each other, and a range over 20° wide that does not tell the
/// side. Numbers that are not finite count as not told.
pub fn infer(ball: &SeenBall, club: Option<ClubKind>, hand: Hand) -> BallReading {
    let own = own_world(&ball.finite(), hand);
    let clubs = Clubs::of(&own, club);
    let said = |angle: ClubAngle, words: Words| {
        let seen = angle.seen_by(hand);
        ClubAngle {
            says: words.says(&seen, hand),
            ..seen
        }
    };
    BallReading {
        hand,
        club,
        level: LEVEL,
        face: said(clubs.face(&own), words::FACE),
        path: said(clubs.path(&own), words::PATH),
        face_to_path: said(clubs.face_to_path(&own), words::FACE_TO_PATH),
        flights: nine::flights(&own, curve_of_carry(&own, club)),
        unknown: words::unknown(&own, club),
    }
}

/// What would narrow the ranges most: each thing not measured, tried at what is guessed for it.
/// Best first; only what takes a quarter off some range.
pub fn would_settle(ball: &SeenBall, club: Option<ClubKind>, hand: Hand) -> Vec<Text> {
    let own = own_world(&ball.finite(), hand);
    let widths = |ball: &SeenBall, club: Option<ClubKind>| {
        let clubs = Clubs::of(ball, club);
        [clubs.face(ball), clubs.path(ball), clubs.face_to_path(ball)]
            .map(|angle| angle.width_deg().unwrap_or(f64::INFINITY))
    };
    let now = widths(&own, club);
    let mut tried: Vec<(f64, Text)> = words::questions(&own, club)
        .into_iter()
        .filter_map(|question| {
            let then = widths(&question.answered, club.or(question.club));
            let (left, which) = (0..3)
                .map(|i| (ratio(then[i], now[i]), i))
                .min_by(|a, b| a.0.total_cmp(&b.0))?;
            (left <= 0.75).then(|| (left, question.worded(which, now[which], then[which])))
        })
        .collect();
    tried.sort_by(|a, b| a.0.total_cmp(&b.0));
    tried.into_iter().map(|(_, says)| says).collect()
}

/// A withheld range that is given then is better than any narrower one.
fn ratio(then: f64, now: f64) -> f64 {
    match (then.is_finite(), now.is_finite()) {
        (true, true) => then / now,
        (true, false) => 0.0,
        (false, _) => f64::INFINITY,
    }
}

impl BallReading {
    /// Face, path, and face against path.
    pub fn angles(&self) -> [&ClubAngle; 3] {
        [&self.face, &self.path, &self.face_to_path]
    }

    /// The flights in words that [`crate::Told`] reads: what a player's usual flight may be set to.
    pub fn usual_flight(&self) -> Option<String> {
        let names: Vec<&str> = self.flights.iter().map(|flight| flight.plain()).collect();
        (!names.is_empty()).then(|| names.join(", "))
    }
}

/// Left and right as the player's world has them.
fn own_world(ball: &SeenBall, hand: Hand) -> SeenBall {
    match hand {
        Hand::Right => ball.clone(),
        Hand::Left => ball.mirrored(),
    }
}

/// Curve in numbers: landed beside its start line, or what the measured axis gives.
fn curve_of_carry(own: &SeenBall, club: Option<ClubKind>) -> Option<f64> {
    Guesser::of(own, club.unwrap_or(ClubKind::MidIron)).curve_of_carry()
}

/// The clubs that may have hit a ball.
struct Clubs {
    guesses: Vec<Guess>,
}

impl Clubs {
    /// Without a kind, every kind is tried alike often.
    fn of(own: &SeenBall, club: Option<ClubKind>) -> Clubs {
        Clubs::drawn(own, club, SEED)
    }

    fn drawn(own: &SeenBall, club: Option<ClubKind>, seed: u64) -> Clubs {
        let kinds = club.map_or_else(|| ClubKind::ALL.to_vec(), |kind| vec![kind]);
        let guessers: Vec<Guesser<'_>> = kinds.iter().map(|kind| Guesser::of(own, *kind)).collect();
        let mut draws = Draws::from_seed(seed);
        let guesses = (0..GUESSES)
            .filter_map(|number| guessers[number % guessers.len()].guess(&mut draws))
            .collect();
        Clubs { guesses }
    }

    fn face(&self, own: &SeenBall) -> ClubAngle {
        self.angle(withheld::why_no_face(own), |guess| guess.face_rad)
    }

    fn path(&self, own: &SeenBall) -> ClubAngle {
        self.angle(withheld::why_no_path(own), |guess| guess.path_rad)
    }

    fn face_to_path(&self, own: &SeenBall) -> ClubAngle {
        self.angle(withheld::why_no_face_to_path(own), |guess| {
            guess.face_rad - guess.path_rad
        })
    }

    fn angle(&self, withheld: Option<Text>, of: impl Fn(&Guess) -> f64) -> ClubAngle {
        if let Some(reason) = withheld {
            return ClubAngle::withheld(reason);
        }
        if self.agreement() < LEAST_AGREEMENT {
            return ClubAngle::withheld(t(withheld::CONTRADICTION));
        }
        let mut values: Vec<(f64, f64)> = self
            .guesses
            .iter()
            .map(|guess| (of(guess).to_degrees(), guess.weight))
            .collect();
        values.sort_by(|a, b| a.0.total_cmp(&b.0));
        let [low, value, high] =
            [0.5 - LEVEL / 2.0, 0.5, 0.5 + LEVEL / 2.0].map(|part| quantile(&values, part));
        if high - low > WIDEST_DEG && low < 0.0 && high > 0.0 {
            return ClubAngle::withheld(t(withheld::TOO_WIDE));
        }
        ClubAngle {
            value_deg: Some(value),
            low_deg: Some(low),
            high_deg: Some(high),
            reason: None,
            says: Text::plain(""),
        }
    }

    /// How many guesses of full weight these are worth: (Σw)²/Σw² (Kish 1965).
    fn agreement(&self) -> f64 {
        let sum: f64 = self.guesses.iter().map(|guess| guess.weight).sum();
        let squares: f64 = self.guesses.iter().map(|guess| guess.weight.powi(2)).sum();
        if squares > 0.0 {
            sum * sum / squares
        } else {
            0.0
        }
    }
}

/// The value below which this part of the weight lies; of values in order, with their weights.
fn quantile(sorted: &[(f64, f64)], part: f64) -> f64 {
    let wanted = part * sorted.iter().map(|(_, weight)| weight).sum::<f64>();
    let mut sum = 0.0;
    for (value, weight) in sorted {
        sum += weight;
        if sum >= wanted {
            return *value;
        }
    }
    sorted.last().map_or(f64::NAN, |(value, _)| *value)
}

impl ClubAngle {
    fn withheld(reason: Text) -> ClubAngle {
        ClubAngle {
            value_deg: None,
            low_deg: None,
            high_deg: None,
            reason: Some(reason),
            says: Text::plain(""),
        }
    }

    fn width_deg(&self) -> Option<f64> {
        Some(self.high_deg? - self.low_deg?)
    }

    /// From the player's world to right and left, to a hundredth of a degree.
    fn seen_by(self, hand: Hand) -> ClubAngle {
        let sign = match hand {
            Hand::Right => 1.0,
            Hand::Left => -1.0,
        };
        // + 0.0 takes the sign off a zero.
        let seen = |deg: f64| (sign * deg * 100.0).round() / 100.0 + 0.0;
        let (low, high) = match hand {
            Hand::Right => (self.low_deg, self.high_deg),
            Hand::Left => (self.high_deg, self.low_deg),
        };
        ClubAngle {
            value_deg: self.value_deg.map(seen),
            low_deg: low.map(seen),
            high_deg: high.map(seen),
            ..self
        }
    }

    /// For a table: "2.1 R (0.4 R to 3.9 R)", or a dash.
    pub fn short(&self) -> Text {
        match (self.value_deg, self.low_deg, self.high_deg) {
            (Some(value), Some(low), Some(high)) => t("ball-short")
                .with("value", short(value))
                .with("low", short(low))
                .with("high", short(high)),
            _ => Text::plain("–"),
        }
    }
}

/// "2.1 R": degrees with their side.
fn short(deg: f64) -> Text {
    let size = format!("{:.1}", deg.abs());
    if size == "0.0" {
        return Text::plain("0");
    }
    let side = match deg < 0.0 {
        true => "ball-short-left",
        false => "ball-short-right",
    };
    t(side).with("size", Text::figure(size))
}

fn in_english<S: Serializer>(text: &Text, into: S) -> Result<S::Ok, S::Error> {
    into.serialize_str(&Say::default().text(text))
}

fn or_empty_in_english<S: Serializer>(text: &Option<Text>, into: S) -> Result<S::Ok, S::Error> {
    let words = text.as_ref().map(|text| Say::default().text(text));
    into.serialize_str(&words.unwrap_or_default())
}

fn all_in_english<S: Serializer>(texts: &[Text], into: S) -> Result<S::Ok, S::Error> {
    into.collect_seq(texts.iter().map(|text| Say::default().text(text)))
}

#[cfg(test)]
mod tests {
    use super::super::seen::{Bend, Curve, Start, Way};
    use super::*;

    #[test]
    fn other_guesses_give_nearly_the_same_range() {
        let ball = SeenBall {
            start: Some(Start::Straight),
            curve: Some(Curve::To(Way::Right, Bend::Clear)),
            ..SeenBall::default()
        };
        let ends = |seed| {
            let clubs = Clubs::drawn(&ball, Some(ClubKind::Driver), seed);
            let path = clubs.path(&ball);
            [path.low_deg.unwrap(), path.high_deg.unwrap()]
        };
        let ([low, high], [other_low, other_high]) = (ends(SEED), ends(7));
        let allowed = (high - low) / 25.0;
        assert!((low - other_low).abs() < allowed && (high - other_high).abs() < allowed);
    }

    #[test]
    fn a_quantile_counts_weights() {
        let values = [(1.0, 1.0), (2.0, 1.0), (3.0, 6.0)];
        let at = |part| quantile(&values, part);
        assert_eq!([at(0.1), at(0.25), at(0.5), at(1.0)], [1.0, 2.0, 3.0, 3.0]);
    }
}
