//! A player: facts, the three checks from swing to swing, swings and their lessons.

use super::record::Record;
use super::{Cell, Progress, Upshot, day};
use crate::AppState;
use crate::bench::before_after_address;
use crate::bring_in::player_bring_in_address;
use crate::error::PageError;
use crate::follow::progress_address;
use crate::practice::practice_address;
use crate::routes::{BallAddresses, lesson_address, swing_address};
use crate::settings::settings_address;
use askama::Template;
use jiff::Timestamp;
use lessonwright_language::{Text, filters, t, words};
use lessonwright_model::{Measure, MeasureName, PlayerFacts, units};
use lessonwright_report::{Title, When};
use lessonwright_store::{Background, PlayerId, Standing, Store, StoredAnalysis};

/// One player.
#[derive(Template)]
#[template(path = "player.html")]
pub struct PlayerPage {
    academy: String,
    /// Where the player's balls are read.
    ball: String,
    /// Whether the drill works.
    follow_up: String,
    settings: String,
    practice: String,
    bring_in: String,
    /// The day of the answers before a prescription.
    asked: Option<Text>,
    /// Why nothing may be prescribed.
    prescription: Option<Text>,
    facts: PlayerFacts,
    hand: Option<Text>,
    stature: Option<Text>,
    /// In words.
    limits: String,
    goals: String,
    told: Background,
    record: Record,
    /// Latest first.
    swings: Vec<SwingRow>,
    table: Table,
    /// Where two swings stand side by side; none with fewer than two.
    before_after: Option<String>,
}

struct SwingRow {
    address: String,
    day: Text,
    upshot: Upshot,
    progress: Progress,
    lesson: Option<String>,
}

/// The three checks: a line for each measure, a column for each of the latest swings, latest first.
struct Table {
    days: Vec<Text>,
    lines: Vec<Line>,
}

struct Line {
    title: Title,
    when: When,
    cells: Vec<Option<Cell>>,
}

/// As many swings as fit on a tablet held upright.
const COLUMNS: usize = 4;

const CHECKS: [MeasureName; 3] = [
    MeasureName::PelvisShift,
    MeasureName::KneeLineTurn,
    MeasureName::TrailElbowAhead,
];

impl PlayerPage {
    pub async fn of(
        store: &Store,
        state: &AppState,
        id: PlayerId,
    ) -> Result<Option<PlayerPage>, PageError> {
        let Some(player) = store.player(id).await? else {
            return Ok(None);
        };
        let state = &state.for_player(&player);
        let standings = store.standings_of(id).await?;
        let analysed = || standings.iter().filter(|standing| standing.analysed);
        let mut analyses = Vec::new();
        for standing in analysed().take(COLUMNS) {
            let stored = store.latest_analysis(standing.swing).await?;
            analyses.extend(stored.map(|stored| (standing.made_at, stored)));
        }
        let before_after = (analysed().count() > 1).then(|| before_after_address(id));
        let swings = standings
            .iter()
            .map(|one| SwingRow::of(one, state))
            .collect();
        let record = Record::of(store, state, &player).await?;
        let held;
        let state = match analyses.first() {
            Some((_, latest)) => {
                held = state.held_for(latest.swing).await;
                &held
            }
            None => state,
        };
        Ok(Some(PlayerPage {
            academy: state.academy.clone(),
            ball: BallAddresses::of(id).page,
            follow_up: progress_address(id),
            settings: settings_address(id),
            practice: practice_address(id),
            bring_in: player_bring_in_address(id),
            asked: player
                .facts
                .screening
                .as_ref()
                .map(|answers| day(answers.asked_at, state)),
            prescription: state
                .prescribing
                .said()
                .screening
                .screen(&player.facts, (state.now)())
                .refusal(),
            hand: player.facts.hand.map(words::hand),
            stature: player.facts.stature_m.map(stature),
            limits: worded(&player.facts.limits, &state.trade().limits),
            goals: worded(&player.facts.goals, &state.trade().goals),
            told: store.background(id).await?,
            record,
            before_after,
            facts: player.facts,
            swings,
            table: Table::of(&analyses, state),
        }))
    }
}

impl PlayerPage {
    /// Where age, limits and goals are set.
    fn body(&self) -> String {
        format!("{}#body", self.settings)
    }
}

impl SwingRow {
    fn of(standing: &Standing, state: &AppState) -> SwingRow {
        SwingRow {
            address: swing_address(standing.swing),
            day: day(standing.made_at, state),
            upshot: Upshot::of_standing(standing, state),
            progress: Progress::of_standing(standing),
            lesson: standing.lesson.map(|(lesson, _)| lesson_address(lesson)),
        }
    }
}

impl Table {
    /// `columns` latest first.
    fn of(columns: &[(Timestamp, StoredAnalysis)], state: &AppState) -> Table {
        let key = |m: &Measure| (m.name, m.moment, m.against);
        let mut keys: Vec<&Measure> = Vec::new();
        let measures = columns
            .iter()
            .flat_map(|(_, stored)| &stored.analysis.measures);
        for measure in measures.filter(|m| CHECKS.contains(&m.name)) {
            if !keys.iter().any(|known| key(known) == key(measure)) {
                keys.push(measure);
            }
        }
        keys.sort_by_key(|measure| key(measure));
        Table {
            days: columns.iter().map(|(at, _)| day(*at, state)).collect(),
            lines: keys
                .into_iter()
                .map(|wanted| Line {
                    title: Title(wanted.name),
                    when: When::of(wanted),
                    cells: columns
                        .iter()
                        .map(|(_, stored)| {
                            let measures = &stored.analysis.measures;
                            let found = measures.iter().find(|m| key(m) == key(wanted));
                            found.map(|measure| Cell::of(measure, state))
                        })
                        .collect(),
                })
                .collect(),
        }
    }
}

/// Keys in the words of the cause table; a key that it does not know stays as it is.
fn worded(keys: &[String], words: &[(String, String)]) -> String {
    let of = |key: &String| {
        let known = words.iter().find(|(known, _)| known == key);
        known.map_or_else(|| key.clone(), |(_, says)| says.clone())
    };
    keys.iter().map(of).collect::<Vec<_>>().join("; ")
}

/// "178 cm (5 ft 10 in)".
fn stature(metres: f64) -> Text {
    let inches = units::inches(units::cm(metres)).round();
    let (feet, inches) = (inches.div_euclid(12.0), inches.rem_euclid(12.0));
    t("player-stature-both")
        .with("cm", Text::decimal(units::cm(metres), 0))
        .with("feet", Text::decimal(feet, 0))
        .with("inches", Text::decimal(inches, 0))
}

#[cfg(test)]
mod tests {
    use super::stature;
    use lessonwright_language::Say;

    #[test]
    fn a_stature_is_said_in_both_units() {
        for (metres, text) in [
            (1.78, "178 cm (5 ft 10 in)"),
            // 71.9 inches round up to six feet, not to "5 ft 12 in".
            (1.826, "183 cm (6 ft 0 in)"),
        ] {
            assert_eq!(Say::default().text(&stature(metres)), text);
        }
    }
}
