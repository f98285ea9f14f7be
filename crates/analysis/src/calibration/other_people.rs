//! What the tuning swings cannot tell: how wrong a number is on a player who is not built and does not move
//! as they do.
//!
//! One captured motion stands for all of them (a real player's, in the Carnegie Mellon database), rendered twelve times with
//! players of solids and twelve with people's shapes that no network was taught, in as many outfits before as many pairs of cameras. What
//! the twelve share, their mean error, is taken as one draw of an error that the table knows nothing of; over the moments
//! of a measure these make a spread (root mean square), of which the larger of both goes into the ±. From `cargo xtask bench
//! accuracy`, November 2026. So the captured motion's own coverage proves nothing any more, and one player is few: read the ± as
//! a floor.

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
        N::PelvisShift => 0.9,
        N::PelvisTowardBall => 2.7,
        N::PelvisTurn => 3.6,
        N::PelvisSideBend => 2.3,
        N::ChestTurn => 11.0,
        N::ChestSideBend => 6.0,
        N::ChestForwardBend => 5.2,
        N::HeadShift => 1.6,
        N::HeadRise => 1.5,
        N::HeadTowardBall => 2.8,
        N::LeadElbowFlexion => 14.5,
        N::TrailElbowFlexion => 14.0,
        N::TrailElbowAhead => 0.7,
        N::HandDepth => 4.1,
        N::HandsOverWayBack => 3.0,
        N::HandHeight => 1.8,
        // Of clubs only rendered ones are known, and the captured one need not meet its ball.
        N::ShaftLean | N::ShaftSlope | N::ShaftSteepening | N::WristSet | N::BallStart => 0.0,
        N::KneeLineTurn => 2.2,
        N::LeadKneeFlexion => 4.6,
        N::TrailKneeFlexion => 2.2,
        N::TrailKneeTowardBall => 1.1,
        N::StanceWidth => 0.6,
        N::MassOverFeet => 3.0,
        N::PelvisPeak => 0.03,
        // In two of the twelve that are told at all it is off by 0.2 s.
        N::ChestPeak => 0.08,
        N::LeadArmPeak => 0.016,
        N::HandsPeak => 0.027,
        N::ChestAfterPelvis | N::LeadArmAfterChest => 0.045,
        // These times carry their moments' spread.
        N::BackswingTime | N::DownswingTime | N::TempoRatio => 0.0,
    }
}

/// Real seconds.
fn spread_s(name: MomentName) -> f64 {
    match name {
        // Rendered clubs only; nothing is known of others.
        MomentName::ShaftLevelBack | MomentName::ShaftLevelDown => 0.0,
        MomentName::Address => 0.017,
        MomentName::LeadArmLevelBack => 0.013,
        // The captured hands hardly move for a tenth of a second there.
        MomentName::Top => 0.025,
        MomentName::LeadArmLevelDown => 0.010,
        MomentName::Impact => 0.0,
        MomentName::Finish => 0.053,
    }
}
