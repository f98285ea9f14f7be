//! The one priority: the rule, stated in `docs/decisions/004-one-priority.md`.
//!
//! 1. A finding marked as a last resort counts only when there is no other.
//! 2. If the player complains of a ball flight, findings with a road to it in the cause table go
//!    before those without. If the flight is told and is no complaint, a finding must lie at
//!    least [`CONTENT_STRENGTH`] half-widths outside.
//! 3. Of what remains, the strongest.
//! 4. Upstream before downstream: as long as some finding leads to the one in hand, that finding
//!    takes its place (the strongest, if several do). An upstream finding may itself have no
//!    road to the flight; it then explains it through the one it leads to.

use crate::causes::CauseTable;
use crate::findings::Found;
use crate::flight::{Flight, Told};

/// How far outside its band a finding must lie, in half-widths, to speak for a change when the
/// ball already flies as the player wants. Our choice: one half-width is plainly outside.
pub(crate) const CONTENT_STRENGTH: f64 = 1.0;

/// What was chosen, and by which steps.
#[derive(Debug)]
pub(crate) struct Choice<'a> {
    /// The finding to work on.
    pub(crate) found: Found<'a>,
    /// The finding it was reached from: itself, or the strongest that is downstream of it.
    pub(crate) reached_from: Found<'a>,
    /// The complaint it explains.
    pub(crate) explains: Option<Flight>,
}

/// The priority among findings that are sorted strongest first, if any qualifies.
pub(crate) fn choose<'a>(
    found: &[Found<'a>],
    told: &Told,
    causes: &CauseTable,
) -> Option<Choice<'a>> {
    let mut candidates: Vec<&Found<'a>> = found
        .iter()
        .filter(|one| !told.is_content() || one.strength >= CONTENT_STRENGTH)
        .collect();
    if candidates.iter().any(|one| !one.body.last_resort) {
        candidates.retain(|one| !one.body.last_resort);
    }
    let complaints = told.complaints();
    let explained = |one: &Found<'a>| {
        complaints
            .iter()
            .copied()
            .find(|flight| causes.road(one.body, *flight).is_some())
    };
    let start = *candidates
        .iter()
        .find(|one| explained(one).is_some())
        .or_else(|| candidates.first())?;
    Some(Choice {
        found: *most_upstream(start, &candidates, causes),
        reached_from: *start,
        explains: explained(start),
    })
}

/// Ends because the cause table has no circle.
fn most_upstream<'c, 'a>(
    start: &'c Found<'a>,
    candidates: &[&'c Found<'a>],
    causes: &CauseTable,
) -> &'c Found<'a> {
    let mut current = start;
    while let Some(up) = candidates
        .iter()
        .find(|one| causes.leads_to(&one.body.key, &current.body.key))
    {
        current = up;
    }
    current
}
