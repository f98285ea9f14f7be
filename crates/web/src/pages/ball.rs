//! What a player's ball tells of face and path: a form, and what is read from it.

use crate::AppState;
use crate::ball::{BallForm, ChoiceField, HAND, NUMBERS, NumberField, SEEN};
use crate::drills::flights_words;
use crate::error::PageError;
use crate::routes::{BallAddresses, player_address, swing_address};
use crate::swing_ball::swing_ball_address;
use askama::Template;
use lessonwright_coaching::ball::{
    AssumedUnits, BallReading, ClubAngle, ClubKind, MiddleShot, SeenBall, Unit, infer,
    middle_shots, read_shots, would_settle,
};
use lessonwright_language::{Text, filters, t};
use lessonwright_model::Hand;
use lessonwright_store::{PlayerId, Store, SwingId};

/// A ball of one player.
#[derive(Template)]
#[template(path = "ball.html")]
pub struct BallPage {
    academy: String,
    player: String,
    back: String,
    to: BallAddresses,
    usual_flight: Option<Text>,
    /// Where it is kept with the swing whose ball it is; a ball by itself is kept with none.
    keep_with_swing: Option<String>,
    /// What is filled in, to be kept.
    filled: Vec<(String, String)>,
    /// None where the player's hand is on record.
    hand: Option<Choice>,
    seen: Vec<Choice>,
    numbers: Vec<Number>,
    /// Open where a number is filled in.
    numbers_open: bool,
    wrong: Vec<Text>,
    one: Option<One>,
    pasted: Pasted,
    many: Option<Many>,
}

struct Choice {
    field: ChoiceField,
    chosen: String,
}

struct Number {
    field: NumberField,
    typed: String,
}

/// What one ball says.
struct One {
    /// As it is kept, and in words.
    flight: Option<(String, Text)>,
    angles: Vec<Angle>,
    unknown: Vec<Text>,
    would_settle: Vec<Text>,
}

/// A sentence and its drawing.
struct Angle {
    says: Text,
    drawn: Option<Drawn>,
}

/// Where a range lies on a scale, % of its width.
struct Drawn {
    left: f64,
    width: f64,
    value: f64,
}

/// What was pasted, to be shown again.
#[derive(Default)]
struct Pasted {
    text: String,
    speed_unit: String,
    length_unit: String,
}

/// What many balls say.
struct Many {
    lines: Vec<Line>,
    middle: Vec<Middle>,
    unknown: Vec<String>,
    left_out: Vec<String>,
}

/// The middle of one club's shots.
struct Middle {
    club: Text,
    shots: usize,
    angles: [Text; 3],
}

struct Line {
    number: u64,
    club: Text,
    angles: [Text; 3],
    flight: Text,
}

/// The scale ends here, degrees: wider ranges run to its edge.
const SCALE_DEG: f64 = 20.0;
/// Pasted shots read on a page; a device's file goes to the command. About two seconds' work.
const MOST_PASTED: usize = 150;

impl BallPage {
    /// The form alone, or with what the filled-in ball says. None if there is no such player.
    pub async fn of(
        store: &Store,
        state: &AppState,
        id: PlayerId,
        filled: &BallForm,
    ) -> Result<Option<BallPage>, PageError> {
        let Some(player) = store.player(id).await? else {
            return Ok(None);
        };
        let known = player.facts.hand;
        let mut page = BallPage {
            academy: state.academy.clone(),
            player: player.facts.name,
            back: player_address(id),
            to: BallAddresses::of(id),
            usual_flight: player.facts.usual_flight.as_deref().map(flights_words),
            keep_with_swing: None,
            filled: filled.0.clone().into_iter().collect(),
            hand: known.is_none().then(|| Choice::of(HAND, filled)),
            seen: SEEN
                .into_iter()
                .map(|field| Choice::of(field, filled))
                .collect(),
            numbers: NUMBERS
                .into_iter()
                .map(|field| Number::of(field, filled))
                .collect(),
            numbers_open: false,
            wrong: Vec::new(),
            one: None,
            pasted: Pasted {
                text: filled.text("shots").into(),
                speed_unit: filled.text("speed_unit").into(),
                length_unit: filled.text("length_unit").into(),
            },
            many: None,
        };
        page.numbers_open = page.numbers.iter().any(|number| !number.typed.is_empty());
        if page.pasted.text.is_empty() {
            page.read_one(filled, known).await;
        } else {
            page.read_many(filled, known).await;
        }
        Ok(Some(page))
    }

    /// The same for the ball of one swing, which is kept with it.
    pub async fn of_swing(
        store: &Store,
        state: &AppState,
        player: PlayerId,
        swing: SwingId,
        filled: &BallForm,
    ) -> Result<Option<BallPage>, PageError> {
        let page = BallPage::of(store, state, player, filled).await?;
        Ok(page.map(|page| BallPage {
            to: BallAddresses {
                page: swing_ball_address(swing),
                ..page.to
            },
            back: swing_address(swing),
            keep_with_swing: Some(format!("{}/keep", swing_ball_address(swing))),
            ..page
        }))
    }

    async fn read_one(&mut self, filled: &BallForm, known: Option<Hand>) {
        match (filled.ball(), filled.hand(known)) {
            (Err(wrong), _) => self.wrong = wrong,
            (Ok((_, ball)), _) if ball == SeenBall::default() => {}
            (Ok(_), None) => self.wrong.push(t(NO_HAND)),
            (Ok((club, ball)), Some(hand)) => {
                self.one = aside(move || One::of(&ball, club, hand)).await;
            }
        }
    }

    async fn read_many(&mut self, filled: &BallForm, known: Option<Hand>) {
        let Some(hand) = filled.hand(known) else {
            self.wrong.push(t(NO_HAND));
            return;
        };
        let text = self.pasted.text.clone();
        let assumed = AssumedUnits {
            speed: Unit::read(&self.pasted.speed_unit),
            length: Unit::read(&self.pasted.length_unit),
        };
        match aside(move || Many::of(&text, assumed, hand)).await {
            Some(Ok(many)) => self.many = Some(many),
            Some(Err(wrong)) => self.wrong.push(wrong),
            None => self.wrong.push(t("ball-shots-not-read")),
        }
    }
}

/// Heavy work, off the threads that answer. None if it panicked.
async fn aside<T: Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> Option<T> {
    tokio::task::spawn_blocking(work).await.ok()
}

/// The message that asks for the hand.
const NO_HAND: &str = "ball-no-hand";

impl Choice {
    fn of(field: ChoiceField, filled: &BallForm) -> Choice {
        Choice {
            chosen: filled.text(field.name).into(),
            field,
        }
    }
}

impl Number {
    fn of(field: NumberField, filled: &BallForm) -> Number {
        Number {
            typed: filled.text(field.name).into(),
            field,
        }
    }
}

impl One {
    fn of(ball: &SeenBall, club: Option<ClubKind>, hand: Hand) -> One {
        let reading = infer(ball, club, hand);
        One {
            flight: reading.usual_flight().map(|flight| {
                let words = flights_words(&flight);
                (flight, words)
            }),
            angles: reading.angles().into_iter().map(Angle::of).collect(),
            would_settle: would_settle(ball, club, hand),
            unknown: reading.unknown,
        }
    }
}

impl Angle {
    fn of(angle: &ClubAngle) -> Angle {
        Angle {
            says: angle.says.clone(),
            drawn: Drawn::of(angle),
        }
    }
}

impl Drawn {
    fn of(angle: &ClubAngle) -> Option<Drawn> {
        let percent = |deg: f64| 50.0 * (1.0 + (deg / SCALE_DEG).clamp(-1.0, 1.0));
        let (low, high) = (percent(angle.low_deg?), percent(angle.high_deg?));
        Some(Drawn {
            left: low,
            width: high - low,
            value: percent(angle.value_deg?),
        })
    }
}

impl Many {
    fn of(text: &str, assumed: AssumedUnits, hand: Hand) -> Result<Many, Text> {
        let wrong = |why: String| t("ball-pasted-wrong").with("why", why);
        let table = read_shots(text, assumed).map_err(|error| wrong(error.to_string()))?;
        if table.shots.len() > MOST_PASTED {
            return Err(t("ball-too-many")
                .with("count", table.shots.len())
                .with("most", MOST_PASTED));
        }
        let readings: Vec<(u64, BallReading)> = table
            .shots
            .iter()
            .map(|shot| (shot.line, infer(&shot.ball, shot.club, hand)))
            .collect();
        Ok(Many {
            lines: readings.iter().map(Line::of).collect(),
            middle: middle_shots(readings.iter().map(|(_, reading)| reading))
                .into_iter()
                .map(Middle::of)
                .collect(),
            unknown: table.unknown,
            left_out: table.left_out,
        })
    }
}

impl Middle {
    fn of(middle: MiddleShot) -> Middle {
        Middle {
            club: club_words(middle.club, "ball-club-not-said"),
            shots: middle.shots,
            angles: middle.angles,
        }
    }
}

/// A kind of club, or that none was said.
fn club_words(club: Option<ClubKind>, not_said: &'static str) -> Text {
    t(match club {
        None => not_said,
        Some(ClubKind::Driver) => "ball-driver",
        Some(ClubKind::FairwayWood) => "ball-fairway-wood",
        Some(ClubKind::Hybrid) => "ball-hybrid",
        Some(ClubKind::LongIron) => "ball-kind-long-iron",
        Some(ClubKind::MidIron) => "ball-kind-mid-iron",
        Some(ClubKind::ShortIron) => "ball-kind-short-iron",
        Some(ClubKind::Wedge) => "ball-wedge",
    })
}

impl Line {
    fn of((number, reading): &(u64, BallReading)) -> Line {
        Line {
            number: *number,
            club: club_words(reading.club, "ball-not-said"),
            angles: reading.angles().map(ClubAngle::short),
            flight: flights_words(&reading.usual_flight().unwrap_or_default()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_is_drawn_where_it_lies() {
        let angle = |low, value, high| ClubAngle {
            value_deg: Some(value),
            low_deg: Some(low),
            high_deg: Some(high),
            reason: None,
            says: Text::plain(""),
        };
        let drawn = Drawn::of(&angle(-10.0, 0.0, 30.0)).unwrap();
        assert_eq!((drawn.left, drawn.width, drawn.value), (25.0, 75.0, 50.0));
    }
}
