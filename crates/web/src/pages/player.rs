//! A player: facts, the three checks from swing to swing, swings and their lessons.

use super::{Cell, Progress, Upshot, day};
use crate::AppState;
use crate::error::PageError;
use crate::follow::progress_address;
use crate::practice::practice_address;
use crate::routes::{BallAddresses, lesson_address, swing_address};
use crate::settings::settings_address;
use askama::Template;
use jiff::Timestamp;
use lessonwright_model::{Measure, MeasureName, PlayerFacts, units};
use lessonwright_report::{Title, When};
use lessonwright_store::{GuardianConsent, OF_AGE_YEARS, PlayerId, Store, StoredAnalysis};

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
    /// The day of the answers before a prescription.
    asked: Option<String>,
    /// Why nothing may be prescribed.
    prescription: Option<String>,
    facts: PlayerFacts,
    stature: Option<String>,
    /// In words.
    limits: String,
    goals: String,
    /// The guardian's name, and the day they agreed.
    consent: Option<(String, String)>,
    /// Latest first.
    swings: Vec<SwingRow>,
    table: Table,
}

struct SwingRow {
    address: String,
    day: String,
    upshot: Upshot,
    progress: Progress,
    lesson: Option<String>,
}

/// The three checks: a line for each measure, a column for each of the latest swings, latest first.
struct Table {
    days: Vec<String>,
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
        let mut swings = Vec::new();
        let mut analyses = Vec::new();
        for swing in store.swings_of(id).await? {
            let at = swing.filmed_at.unwrap_or(swing.added_at);
            let stored = store.latest_analysis(swing.id).await?;
            let lessons = store.lessons_of_swing(swing.id).await?;
            let analysis = stored.as_ref().map(|stored| &stored.analysis);
            swings.push(SwingRow {
                address: swing_address(swing.id),
                day: day(at, state),
                upshot: Upshot::of(analysis),
                progress: Progress::of(analysis, &lessons),
                lesson: lessons.first().map(|lesson| lesson_address(lesson.id)),
            });
            analyses.extend(stored.map(|stored| (at, stored)));
        }
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
            asked: player
                .facts
                .screening
                .as_ref()
                .map(|answers| day(answers.asked_at, state)),
            prescription: state
                .prescribing
                .screening
                .screen(&player.facts, (state.now)())
                .refusal(),
            stature: player.facts.stature_m.map(stature),
            limits: worded(&player.facts.limits, &state.trade.limits),
            goals: worded(&player.facts.goals, &state.trade.goals),
            consent: player
                .guardian_consent
                .map(|GuardianConsent { guardian, given_at }| (guardian, day(given_at, state))),
            facts: player.facts,
            swings,
            table: Table::of(&analyses, state),
        }))
    }

    fn is_minor(&self) -> bool {
        self.facts.age_years.is_some_and(|age| age < OF_AGE_YEARS)
    }
}

impl Table {
    /// `analyses` latest first.
    fn of(analyses: &[(Timestamp, StoredAnalysis)], state: &AppState) -> Table {
        let columns = &analyses[..analyses.len().min(COLUMNS)];
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
fn stature(metres: f64) -> String {
    let inches = units::inches(units::cm(metres)).round();
    let (feet, inches) = (inches.div_euclid(12.0), inches.rem_euclid(12.0));
    format!("{:.0} cm ({feet:.0} ft {inches:.0} in)", units::cm(metres))
}

#[cfg(test)]
mod tests {
    use super::stature;

    #[test]
    fn a_stature_is_said_in_both_units() {
        for (metres, text) in [
            (1.78, "178 cm (5 ft 10 in)"),
            // 71.9 inches round up to six feet, not to "5 ft 12 in".
            (1.826, "183 cm (6 ft 0 in)"),
        ] {
            assert_eq!(stature(metres), text);
        }
    }
}
