//! One player's follow-up: is the drill working, how the numbers went, and how each swing was made.

use super::{
    Badge, computed, counts, everybody, many, mark_of, place_words, signed, size, spelled, toward,
};
use crate::Prescribing;
use crate::error::PageError;
use crate::follow::{MARK_ADDRESS, prescription_address, progress_address};
use crate::language::say;
use crate::letter::letter_address;
use crate::routes::{Studio, player_address, swing_address};
use askama::Template;
use lessonwright_coaching::follow::{
    Counted, NEXT_LESSON_DAYS, Progress, Trend, TrendSession, due, percent_text,
};
use lessonwright_language::{Say, Text, filters, t, when, words};
use lessonwright_model::{
    Day, FilmedSwing, Given, History, MeasureName, MomentName, Occasion, Place,
};
use lessonwright_report::{
    Amount, Title, TrendContent, TrendMark, TrendPicture, TrendPoint, Units, When,
};
use lessonwright_store::{PlayerId, SwingId, date_of};
use std::collections::BTreeSet;
use std::sync::Arc;

/// A player's progress.
#[derive(Template)]
#[template(path = "follow_player.html")]
pub struct PlayerFollowUp {
    academy: String,
    player: String,
    player_address: String,
    own_address: String,
    letter: String,
    mark_address: &'static str,
    drafts: usize,
    due: Option<Text>,
    prescriptions: Vec<Followed>,
    trends: Vec<Drawn>,
    /// Other numbers that can be drawn: key and words.
    others: Vec<(String, Text)>,
    sessions: Vec<SessionRow>,
}

/// One prescription.
struct Followed {
    title: Text,
    day: Text,
    measure: Title,
    when: When,
    /// From where to where.
    aim: Text,
    badge: Badge,
    /// What changed, worded; none where nothing can be judged.
    change: Option<ChangeWords>,
    step: Text,
    because: Vec<Text>,
    notes: Vec<Text>,
    kinds: Vec<Kind>,
    could_tell: Option<Text>,
    next: Next,
}

struct ChangeWords {
    amount: Text,
    likely: Text,
    half: Text,
    basis: Text,
    by_chance: Option<Text>,
    mdc: Text,
}

/// Swings of one kind.
struct Kind {
    mark: TrendMark,
    name: Text,
    counts: Text,
    before: Amount,
    after: Amount,
    change: Text,
    badge: Badge,
}

/// When the next lesson is, and where that is set.
struct Next {
    address: String,
    days: Option<u32>,
    usual: u32,
    ended: Option<Text>,
}

struct Drawn {
    id: String,
    title: Title,
    when: When,
    picture: TrendPicture,
    rows: Vec<DrawnRow>,
    goal: Option<Text>,
    band: Option<(Text, Text)>,
    other_view: usize,
    kinds: Vec<(TrendMark, Text)>,
    /// What up and down mean; none where the number has no direction.
    directions: Option<Text>,
}

struct DrawnRow {
    day: Text,
    name: Text,
    mean: Amount,
    spread: Text,
    swings: Text,
}

struct SessionRow {
    day: Text,
    assumed: bool,
    groups: Vec<Group>,
    swings: Vec<Group>,
}

/// Swings that are marked together.
struct Group {
    label: Text,
    address: Option<String>,
    keys: String,
    occasion: Option<Occasion>,
    session_on: String,
}

/// The numbers drawn whatever was prescribed, with the lead arm level on the way down.
const CHECKS: [MeasureName; 3] = [
    MeasureName::PelvisShift,
    MeasureName::KneeLineTurn,
    MeasureName::TrailElbowAhead,
];

impl PlayerFollowUp {
    pub async fn of(
        studio: &Studio,
        id: PlayerId,
        show: Option<&str>,
    ) -> Result<Option<PlayerFollowUp>, PageError> {
        let Some(player) = studio.store.player(id).await? else {
            return Ok(None);
        };
        let (roster, today) = everybody(studio).await?;
        let show = show.map(str::to_owned);
        let (academy, units, say) = (
            studio.state.academy.clone(),
            studio.state.for_player(&player).units,
            say(),
        );
        let by = Arc::clone(&studio.state.prescribing);
        let page = computed(move || {
            let history = roster.player(id.0)?;
            let drawn = places(history, show.as_deref());
            Some(PlayerFollowUp {
                academy,
                player: player.facts.name,
                player_address: player_address(id),
                own_address: progress_address(id),
                letter: letter_address(id),
                mark_address: MARK_ADDRESS,
                drafts: history.drafts,
                due: due(history, today).map(super::roster::due_words),
                prescriptions: roster
                    .progress(history, today)
                    .into_iter()
                    .map(|progress| Followed::of(progress, units, &by))
                    .collect(),
                others: others(history, &drawn),
                trends: drawn
                    .into_iter()
                    .filter_map(|place| Drawn::of(&roster.trend(history, place)?, units, say))
                    .collect(),
                sessions: sessions(history),
            })
        });
        Ok(page.await)
    }

    /// The one in force first; the others are folded away.
    fn current(&self) -> Option<&Followed> {
        self.prescriptions.first()
    }

    fn earlier(&self) -> &[Followed] {
        self.prescriptions.get(1..).unwrap_or_default()
    }
}

impl Followed {
    fn of(progress: Progress, units: Units, by: &Prescribing) -> Followed {
        let (aim, given) = (progress.aim, &progress.given);
        let Place {
            measure,
            moment,
            against,
        } = aim.place;
        let amount = |value| Amount::new(measure, value, units);
        let change = progress.change().map(|change| ChangeWords {
            amount: toward(measure, change, units),
            likely: percent_text(change.p_toward),
            half: percent_text(change.p_half),
            basis: t("follow-basis")
                .with("kind", kind_first(progress.headline))
                .with("to", counts(change.to))
                .with("from", counts(change.from)),
            by_chance: change
                .regression
                .filter(|by| by * change.toward > 0.0)
                .map(|by| size(measure, by, units)),
            mdc: size(measure, change.mdc, units),
        });
        let kinds = progress.results.iter().filter_map(|result| {
            let change = result.change.as_ref()?;
            Some(Kind {
                mark: mark_of(result.counted),
                name: result.counted.text(),
                counts: counts(change.to),
                before: amount(change.before),
                after: amount(change.after),
                change: toward(measure, change, units),
                badge: Badge(Some(change.verdict)),
            })
        });
        Followed {
            title: by.retold(&given.title),
            day: spelled(given.day),
            measure: Title(measure),
            when: When::new(measure, moment, against),
            aim: match aim.start {
                None => t("follow-aim"),
                Some(start) => t("follow-aim-from").with("start", amount(start).text()),
            }
            .with("goal", amount(aim.goal).text()),
            badge: Badge(progress.verdict()),
            change,
            step: progress.advice.step.text(),
            because: progress.advice.because.clone(),
            notes: progress.notes.clone(),
            kinds: kinds.collect(),
            could_tell: progress.could_tell.map(|least| size(measure, least, units)),
            next: Next::of(given),
        }
    }
}

impl Next {
    fn of(given: &Given) -> Next {
        Next {
            address: prescription_address(given.id),
            days: given.next_in_days,
            usual: NEXT_LESSON_DAYS,
            ended: given.ended.map(spelled),
        }
    }
}

impl Drawn {
    fn of(trend: &Trend, units: Units, say: Say) -> Option<Drawn> {
        let measure = trend.place.measure;
        let amount = |value| Amount::new(measure, value, units);
        let said = |value| amount(value).text();
        let point = |s: &TrendSession| TrendPoint {
            day: s.day.0,
            label: say.text(&when::short(date_of(s.day))),
            mean: s.mean,
            plus_minus: s.plus_minus,
            swings: s.swings.iter().map(|(_, value, _)| *value).collect(),
            mark: mark_of(s.counted),
        };
        let row = |s: &TrendSession| DrawnRow {
            day: spelled(s.day),
            name: s.counted.text(),
            mean: amount(s.mean),
            spread: t("follow-plus-minus").with("size", size(measure, s.plus_minus, units)),
            swings: Text::joined(
                s.swings.iter().map(|(_, value, own)| {
                    t("follow-with-own")
                        .with("value", signed(measure, *value, units))
                        .with("own", size(measure, *own, units))
                }),
                "; ",
            ),
        };
        let kinds: BTreeSet<Counted> = trend.sessions.iter().map(|s| s.counted).collect();
        Some(Drawn {
            id: key(trend.place).replace('/', "-"),
            title: Title(measure),
            when: When::new(measure, trend.place.moment, trend.place.against),
            picture: TrendPicture::new(&TrendContent {
                measure,
                units,
                points: trend.sessions.iter().map(point).collect(),
                band: trend.band,
                goal: trend.goal,
                lessons: trend.lessons.iter().map(|day| day.0).collect(),
            })?,
            rows: trend.sessions.iter().map(row).collect(),
            goal: trend.goal.map(said),
            band: trend.band.map(|band| (said(band.low), said(band.high))),
            other_view: trend.other_view,
            directions: directions(measure),
            kinds: kinds.into_iter().map(|k| (mark_of(k), k.text())).collect(),
        })
    }
}

/// Swings of a kind, at the beginning of a sentence.
fn kind_first(counted: Option<Counted>) -> Text {
    match counted {
        None => Text::plain(""),
        Some(Counted::Practice) => t("follow-first-practice"),
        Some(Counted::Unmarked) => t("follow-first-unmarked"),
        Some(Counted::Retention) => t("follow-first-retention"),
        Some(Counted::Transfer) => t("follow-first-transfer"),
    }
}

/// What up and down mean.
fn directions(measure: MeasureName) -> Option<Text> {
    let plus = words::way(measure, true)?;
    Some(match words::way(measure, false) {
        None => t("follow-up-is").with("plus", plus),
        Some(minus) => t("follow-up-and-down")
            .with("plus", plus)
            .with("minus", minus),
    })
}

/// What is drawn: what was prescribed for, latest first, the three checks, and what was asked for.
fn places(history: &History, show: Option<&str>) -> Vec<Place> {
    let measured = measured(history);
    let asked = measured
        .iter()
        .copied()
        .filter(|p| Some(key(*p).as_str()) == show);
    let prescribed = history
        .given
        .iter()
        .rev()
        .filter_map(|g| Some(g.aim?.place));
    let checks = measured
        .iter()
        .copied()
        .filter(|p| CHECKS.contains(&p.measure) && p.moment == MomentName::LeadArmLevelDown);
    let mut places: Vec<Place> = Vec::new();
    for place in asked.chain(prescribed).chain(checks) {
        if !places.contains(&place) {
            places.push(place);
        }
    }
    places
}

/// Key and words of what is not drawn.
fn others(history: &History, drawn: &[Place]) -> Vec<(String, Text)> {
    let others = measured(history).into_iter().filter(|p| !drawn.contains(p));
    others
        .map(|place| (key(place), place_words(place)))
        .collect()
}

fn measured(history: &History) -> BTreeSet<Place> {
    let all = history.swings.iter().flat_map(|s| &s.measures);
    all.filter(|m| m.value.is_some()).map(Place::of).collect()
}

/// A place as an address has it: its plain words.
fn key(place: Place) -> String {
    let text = place.plain();
    let plain = |c: char| if c.is_ascii_alphanumeric() { c } else { '-' };
    text.chars().map(plain).collect()
}

/// Latest first.
fn sessions(history: &History) -> Vec<SessionRow> {
    let mut days: Vec<Day> = history.swings.iter().map(|s| s.day).collect();
    days.dedup();
    let row = |day: &Day| {
        let swings: Vec<&FilmedSwing> = history.swings.iter().filter(|s| s.day == *day).collect();
        let same = swings.iter().all(|s| s.occasion == swings[0].occasion);
        let keys: Vec<String> = swings.iter().map(|s| s.swing.to_string()).collect();
        SessionRow {
            day: spelled(*day),
            assumed: swings.iter().any(|s| s.day_assumed),
            groups: vec![Group {
                label: many(swings.len(), "follow-swings"),
                address: None,
                keys: keys.join(" "),
                occasion: swings[0].occasion.filter(|_| same),
                session_on: said_day(&swings),
            }],
            swings: swings.iter().map(|s| Group::of_one(s)).collect(),
        }
    };
    days.iter().rev().map(row).collect()
}

/// The day of swings whose session was said by hand; empty for the day they were filmed.
fn said_day(swings: &[&FilmedSwing]) -> String {
    match swings.iter().all(|s| s.at_s.is_none()) {
        true => date_of(swings[0].day).to_string(),
        false => String::new(),
    }
}

impl Group {
    fn of_one(swing: &FilmedSwing) -> Group {
        Group {
            label: t("follow-swing").with("swing", swing.swing.to_string()),
            address: Some(swing_address(SwingId(swing.swing))),
            keys: swing.swing.to_string(),
            occasion: swing.occasion,
            session_on: said_day(&[swing]),
        }
    }

    /// The choices: key, words, whether chosen.
    fn choices(&self) -> [(&'static str, Text, bool); 4] {
        let one =
            |occasion: Occasion, words| (occasion.key(), t(words), self.occasion == Some(occasion));
        [
            ("", t("follow-not-marked"), self.occasion.is_none()),
            one(Occasion::Practice, "follow-practice"),
            one(Occasion::Retention, "follow-retention"),
            one(Occasion::Transfer, "follow-transfer"),
        ]
    }
}
