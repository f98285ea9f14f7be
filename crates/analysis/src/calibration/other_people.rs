//! What the tuning swings cannot tell: how wrong a number is on a player who is not built and does not move
//! as they do.
//!
//! One captured motion (a real player's, in the Carnegie Mellon database) rendered in twelve outfits
//! before twelve pairs of cameras stands for all others. What every rendering of it shares, the mean error, is
//! taken as one draw of an error that the table knows nothing of; over the moments of a measure these make
//! a spread (root mean square), and it goes into the ±. From `cargo xtask bench accuracy --capture`,
//! November 2026. So the captured motion's own coverage proves nothing any more, and one player is few:
//! read the ± as a floor.

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
        N::PelvisTowardBall => 1.2,
        N::PelvisTurn => 7.3,
        N::PelvisSideBend => 3.9,
        N::ChestTurn => 9.0,
        N::ChestSideBend => 7.0,
        N::ChestForwardBend => 5.1,
        N::HeadShift => 3.1,
        N::HeadRise => 1.1,
        N::HeadTowardBall => 1.3,
        N::LeadElbowFlexion => 23.0,
        N::TrailElbowFlexion => 13.0,
        N::TrailElbowAhead => 1.5,
        N::HandDepth | N::HandsOverWayBack => 3.3,
        N::HandHeight => 0.4,
        // Rendered clubs only; nothing is known of others.
        N::ShaftLean | N::ShaftSlope | N::ShaftSteepening | N::WristSet | N::BallStart => 0.0,
        N::KneeLineTurn => 1.8,
        N::LeadKneeFlexion => 5.5,
        N::TrailKneeFlexion => 2.6,
        N::TrailKneeTowardBall => 1.0,
        N::StanceWidth => 0.6,
        N::MassOverFeet => 4.1,
        // Times of the motion carry their moments' spread; peaks are withheld as it is.
        N::BackswingTime
        | N::DownswingTime
        | N::TempoRatio
        | N::PelvisPeak
        | N::ChestPeak
        | N::LeadArmPeak
        | N::HandsPeak
        | N::ChestAfterPelvis
        | N::LeadArmAfterChest => 0.0,
    }
}

/// Real seconds.
fn spread_s(name: MomentName) -> f64 {
    match name {
        // Rendered clubs only; nothing is known of others.
        MomentName::ShaftLevelBack | MomentName::ShaftLevelDown => 0.0,
        MomentName::Address => 0.012,
        MomentName::LeadArmLevelBack => 0.011,
        // The captured hands hardly move for a tenth of a second there.
        MomentName::Top => 0.025,
        MomentName::LeadArmLevelDown => 0.009,
        MomentName::Impact => 0.0,
        MomentName::Finish => 0.042,
    }
}
