//! What the tuning swings cannot tell: how wrong a number is on a player who is not built and does not move
//! as they do.
//!
//! Two kinds of others stand for all. One captured motion (a real player's, in the Carnegie Mellon database) rendered
//! in twelve outfits before twelve pairs of cameras: what every rendering of it shares, the mean error, is taken as one
//! draw of an error that the table knows nothing of; over the moments of a measure these make a spread (root mean
//! square). And twelve tuning swings of players with people's shapes (`docs/decisions/028-peoples-shapes.md`; seeds 1151–1162, `--shapes
//! learn`), which the networks were not taught: what their errors have over the table's. The larger of the two goes into the
//! ±. From `cargo xtask bench accuracy`, November 2026; three are larger than the networks of now would make
//! them, and are kept from those before (`docs/decisions/026-figures-in-any-pose.md`): the knee line (0.6° now), the lead
//! elbow (19°), and the time of the top (3 ms). So the captured motion's own coverage proves nothing any more, and twelve
//! shapes and one player are few: read the ± as a floor.

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
        N::PelvisShift => 1.3,
        N::PelvisTowardBall => 2.9,
        N::PelvisTurn => 5.9,
        N::PelvisSideBend => 2.7,
        N::ChestTurn => 9.0,
        N::ChestSideBend => 4.3,
        N::ChestForwardBend => 4.3,
        N::HeadShift => 2.5,
        N::HeadRise => 0.5,
        N::HeadTowardBall => 3.8,
        N::LeadElbowFlexion => 23.0,
        N::TrailElbowFlexion => 12.0,
        N::TrailElbowAhead => 2.5,
        N::HandDepth | N::HandsOverWayBack => 1.6,
        N::HandHeight => 0.5,
        // The hands it leans from; of clubs only rendered ones are known.
        N::ShaftLean => 1.8,
        N::ShaftSlope | N::ShaftSteepening | N::WristSet | N::BallStart => 0.0,
        N::KneeLineTurn => 1.8,
        N::LeadKneeFlexion => 5.2,
        N::TrailKneeFlexion => 2.4,
        N::TrailKneeTowardBall => 0.7,
        N::StanceWidth => 1.1,
        N::MassOverFeet => 2.1,
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
        MomentName::Address => 0.017,
        MomentName::LeadArmLevelBack => 0.013,
        // The captured hands hardly move for a tenth of a second there.
        MomentName::Top => 0.025,
        MomentName::LeadArmLevelDown => 0.010,
        MomentName::Impact => 0.0,
        MomentName::Finish => 0.053,
    }
}
