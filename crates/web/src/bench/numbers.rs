//! Every measure with its ±, state and reason, and beside it that of the swing it is compared with.

use crate::AppState;
use crate::error::PageError;
use crate::pages::{Cell, moment_key};
use askama::Template;
use lessonwright_model::measure::table;
use lessonwright_model::{Measure, SwingAnalysis, View};
use lessonwright_report::{Title, When};
use lessonwright_store::{Store, SwingId};

/// The table.
#[derive(Template)]
#[template(path = "bench_numbers.html")]
pub struct Numbers {
    parts: Vec<Part>,
    /// There is another swing beside it.
    compared: bool,
    /// What is corrected by hand can be taken back.
    pub can_undo: bool,
}

struct Part {
    title: &'static str,
    lines: Vec<Line>,
}

struct Line {
    /// Says which line it is, the same before and after a correction.
    key: String,
    title: Title,
    when: When,
    view: Option<View>,
    /// The moment it belongs to; empty for one of the whole motion.
    moment: &'static str,
    cell: Cell,
    other: Option<Cell>,
    reason: String,
}

impl Numbers {
    pub async fn of(
        store: &Store,
        state: &AppState,
        id: SwingId,
        with: Option<SwingId>,
    ) -> Result<Option<Numbers>, PageError> {
        let Some(stored) = store.latest_analysis(id).await? else {
            return Ok(None);
        };
        let state = &state.for_swing(store, id).await?;
        let other = match with {
            Some(with) => store.latest_analysis(with).await?,
            None => None,
        };
        let other = other.as_ref().map(|stored| &stored.analysis);
        let parts = table(&stored.analysis.measures);
        Ok(Some(Numbers {
            parts: parts
                .into_iter()
                .map(|(part, lines)| Part {
                    title: part.title(),
                    lines: lines
                        .iter()
                        .map(|one| Line::of(one, other, state))
                        .collect(),
                })
                .collect(),
            compared: other.is_some(),
            can_undo: !store.corrections_of(id).await?.is_empty(),
        }))
    }
}

impl Line {
    /// A measure, or one that is withheld at several moments for one reason.
    fn of(measures: &[Measure], other: Option<&SwingAnalysis>, state: &AppState) -> Line {
        let first = &measures[0];
        let when = When::of(first);
        let one_moment = measures.len() == 1 && !when.is_whole_motion();
        let same = |m: &&Measure| {
            (m.name, m.moment, m.against) == (first.name, first.moment, first.against)
        };
        let beside = other.and_then(|swing| swing.measures.iter().find(same));
        Line {
            key: format!("{:?} {:?} {:?}", first.name, first.moment, first.against),
            title: Title(first.name),
            view: first.view.filter(|_| first.value.is_some()),
            moment: match one_moment {
                true => moment_key(first.moment),
                false => "",
            },
            when,
            cell: Cell::of(first, state),
            other: beside.map(|measure| Cell::of(measure, state)),
            reason: first.reason.clone(),
        }
    }
}
