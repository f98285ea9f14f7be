//! What the tuning swings cannot tell: how wrong a number is on a player who is not built and does not move
//! as they do.
//!
//! Two of another making stand for all of them: one captured motion (a real player's, in the Carnegie Mellon database), rendered
//! twelve times, and twelve swings of joints pushed by torques (the stage's `driven`), each again with people's shapes that no network
//! was taught, in as many outfits before as many pairs of cameras. What a dozen share, their mean error, is taken as one draw
//! of an error that the table knows nothing of; over the moments of a measure these make a spread (root mean square), of which
//! the larger of solids and shapes counts. The captured player, who is real, counts whole; both makings together (root mean
//! square) where that is more. November 2026, `docs/decisions/031-a-second-making.md`. Two are few: read the ± as a floor.

use super::{MeasureRow, MomentRow};
use lessonwright_model::{MeasureName, MomentName};

/// A row with what other people add.
pub(super) fn widened(row: &MeasureRow) -> MeasureRow {
    let mut row = *row;
    row.bias.sd = row.bias.sd.hypot(spread(row.name));
    row
}

/// A moment's row, likewise.
pub(super) fn widened_moment(row: &MomentRow) -> MomentRow {
    let mut row = *row;
    if row.cue == super::Cue::Motion {
        row.bias.sd = row.bias.sd.hypot(spread_s(row.name));
    }
    row
}

/// In the measure's unit.
fn spread(name: MeasureName) -> f64 {
    use MeasureName as N;
    match name {
        N::PelvisShift => 0.95,
        N::PelvisTowardBall => 1.0,
        N::PelvisTurn => 3.4,
        N::PelvisSideBend => 3.2,
        N::ChestTurn => 9.2,
        N::ChestSideBend => 5.0,
        N::ChestForwardBend => 3.9,
        N::HeadShift => 1.7,
        N::HeadRise => 0.95,
        N::HeadTowardBall => 0.9,
        N::LeadElbowFlexion => 9.1,
        N::TrailElbowFlexion => 13.7,
        N::TrailElbowAhead => 1.4,
        N::HandDepth => 2.8,
        N::HandsOverWayBack => 2.3,
        N::HandHeight => 1.7,
        // Of clubs only rendered ones are known, and the captured one need not meet its ball.
        N::ShaftLean | N::ShaftSlope | N::ShaftSteepening | N::WristSet | N::BallStart => 0.0,
        N::KneeLineTurn => 4.1,
        N::LeadKneeFlexion => 5.6,
        N::TrailKneeFlexion => 3.0,
        N::TrailKneeTowardBall => 1.0,
        N::StanceWidth => 0.7,
        N::MassOverFeet => 3.2,
        N::PelvisPeak => 0.068,
        N::ChestPeak => 0.11,
        // Of the captured motion few are told. Of the hands' it is two, 0.003 and 0.067 off; driven ones are 0.022 off.
        N::LeadArmPeak => 0.017,
        N::HandsPeak => 0.039,
        N::ChestAfterPelvis => 0.16,
        N::LeadArmAfterChest => 0.13,
        // These times carry their moments' spread.
        N::BackswingTime | N::DownswingTime | N::TempoRatio => 0.0,
    }
}

/// Real seconds.
fn spread_s(name: MomentName) -> f64 {
    match name {
        // Rendered clubs only; nothing is known of others.
        MomentName::ShaftLevelBack | MomentName::ShaftLevelDown => 0.0,
        MomentName::Address => 0.012,
        MomentName::LeadArmLevelBack => 0.015,
        // The captured hands hardly move for a tenth of a second there.
        MomentName::Top => 0.038,
        MomentName::LeadArmLevelDown => 0.007,
        MomentName::Impact => 0.0,
        MomentName::Finish => 0.044,
    }
}
