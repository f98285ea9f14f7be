//! The drill book, and one of its drills.

use crate::AppState;
use crate::drills::{drill_address, stills_address};
use crate::language::say;
use crate::own;
use askama::Template;
use lessonwright_coaching::{Care, DrillPage as Page, Flight};
use lessonwright_language::{Text, filters};
use lessonwright_model::{Drill, Hand};
use lessonwright_report::{FigurePart, StationPlan};

/// All drills, or those that help with a flight.
#[derive(Template)]
#[template(path = "drills.html")]
pub struct DrillsPage {
    pub academy: String,
    pub flights: Vec<OfferedFlight>,
    pub drills: Vec<DrillEntry>,
    pub all: usize,
    /// Where one is changed, or an own one added.
    own: &'static str,
}

/// A flight to choose drills by.
pub struct OfferedFlight {
    /// As the address has it.
    pub key: &'static str,
    pub words: Text,
    pub chosen: bool,
}

/// A drill in the list.
pub struct DrillEntry {
    pub title: String,
    pub changes: String,
    pub address: String,
    pub stills: Option<String>,
}

impl DrillsPage {
    pub fn of(state: &AppState, flight: Option<Flight>) -> DrillsPage {
        let prescribing = &state.prescribing;
        let language = say().language;
        let helps = |page: &&Page| flight.is_none_or(|flight| page.helps_with(flight));
        let entry = |page: &Page| {
            let drill = page.in_language(language).worded(Hand::Right, &Care::Full);
            DrillEntry {
                title: drill.title,
                changes: drill.changes,
                address: drill_address(page.key()),
                stills: prescribing
                    .figures
                    .of(page.key())
                    .map(|_| stills_address(page.key())),
            }
        };
        let offered = |&other: &Flight| OfferedFlight {
            key: other.plain(),
            words: other.text(),
            chosen: flight == Some(other),
        };
        DrillsPage {
            academy: state.academy.clone(),
            flights: Flight::ALL
                .iter()
                .filter(|f| f.is_complaint())
                .map(offered)
                .collect(),
            drills: prescribing.book.pages().filter(helps).map(entry).collect(),
            all: prescribing.book.pages().count(),
            own: own::drills::ADDRESS,
        }
    }
}

/// One drill as the player reads it.
#[derive(Template)]
#[template(path = "drill.html")]
pub struct DrillPage {
    pub academy: String,
    pub drill: Drill,
    pub left: bool,
    /// Its pictures, as HTML.
    pub figure: Option<String>,
    /// What lies on the ground, as HTML.
    pub station: Option<String>,
}

impl DrillPage {
    pub fn of(state: &AppState, page: &Page, hand: Hand) -> Result<DrillPage, askama::Error> {
        let (prescribing, language) = (&state.prescribing, say().language);
        let drill = page.in_language(language).worded(hand, &Care::Full);
        let figure = prescribing.figures.of(page.key());
        let figure =
            figure.map(|figure| say().render(&FigurePart::new(&drill.title, hand, figure)));
        let stations = prescribing.stations.clone().in_language(language);
        let layout = stations.of(page.key(), hand);
        let station = layout.map(|layout| say().render(&StationPlan::new(&layout, hand)));
        Ok(DrillPage {
            academy: state.academy.clone(),
            figure: figure.transpose()?,
            station: station.transpose()?,
            left: hand == Hand::Left,
            drill,
        })
    }
}
