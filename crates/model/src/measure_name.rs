//! The measures by name, with what every place that shows them needs to know of each.

use crate::measure::Unit;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The measures of this version; each has a page in `docs/measures`. In the order of a table by part
/// of the body.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum MeasureName {
    /// How far the mid-point of the hip joint centres has moved, plus toward the target.
    PelvisShift,
    /// How far the mid-point of the hip joint centres has moved, plus toward the ball.
    PelvisTowardBall,
    /// Turn of the line through the hip joint centres seen from above, plus when more open to the target.
    PelvisTurn,
    /// Angle of the line through the hip joint centres to the ground, plus when the lead hip is higher.
    PelvisSideBend,
    /// Turn of the line through the shoulder joint centres seen from above, plus when more open to the target.
    ChestTurn,
    /// Angle of the line through the shoulder joint centres to the ground, plus when the lead shoulder is higher.
    ChestSideBend,
    /// Angle from upright of the line from mid-hip to mid-shoulder in the upright plane the chest faces, plus forward.
    ChestForwardBend,
    /// How far the nose has moved along the target line, plus toward the target.
    HeadShift,
    /// How far the nose has moved up, plus up.
    HeadRise,
    /// How far the nose has moved, plus toward the ball.
    HeadTowardBall,
    /// Bend of the lead elbow from straight.
    LeadElbowFlexion,
    /// Bend of the trail elbow from straight.
    TrailElbowFlexion,
    /// Distance of the trail elbow from the mid-axillary line of the trunk, plus toward the ball.
    TrailElbowAhead,
    /// How far the mid-point of the wrists has moved, plus toward the ball.
    HandDepth,
    /// How far the mid-point of the wrists has moved up, plus up.
    HandHeight,
    /// How far the hands, coming down, are from where they were on the way back at the same height, plus toward the ball (over).
    HandsOverWayBack,
    /// Lean of the shaft from upright seen face-on, plus with the hands ahead of the head.
    ShaftLean,
    /// Angle of the shaft's line to the ground on the ball's side, seen down the line; more is steeper.
    ShaftSlope,
    /// How much steeper the shaft is with the lead arm level coming down than going back, seen down the line, plus when steeper.
    ShaftSteepening,
    /// Angle between the lead forearm and the shaft seen face-on; 0 when the shaft goes on in the forearm's line.
    WristSet,
    /// Direction of the ball's first flight in the picture, from upright, seen down the line; plus away from the player.
    BallStart,
    /// Turn of the line through the knees seen from above, plus when more open to the target.
    KneeLineTurn,
    /// Bend of the lead knee from straight.
    LeadKneeFlexion,
    /// Bend of the trail knee from straight.
    TrailKneeFlexion,
    /// How far the trail knee has moved, plus toward the ball.
    TrailKneeTowardBall,
    /// Level distance between the ankles.
    StanceWidth,
    /// Where the centre of mass of a segment-mass model lies over the ground, as a share of the way from the trail ankle to the lead ankle. Not pressure.
    MassOverFeet,
    /// Duration from address to top.
    BackswingTime,
    /// Duration from top to impact.
    DownswingTime,
    /// Backswing time over downswing time.
    TempoRatio,
    /// When the pelvis turns fastest on the way down, before impact.
    PelvisPeak,
    /// When the chest turns fastest on the way down, before impact.
    ChestPeak,
    /// When the lead arm swings fastest on the way down, before impact.
    LeadArmPeak,
    /// When the hands move fastest on the way down, before impact.
    HandsPeak,
    /// How long after the pelvis the chest turns fastest.
    ChestAfterPelvis,
    /// How long after the chest turns fastest the lead arm swings fastest.
    LeadArmAfterChest,
}

/// The part of the body, or else the side of the swing, that a measure is listed under.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    /// The pelvis.
    Pelvis,
    /// The chest.
    Chest,
    /// The head.
    Head,
    /// Arms and hands.
    Arms,
    /// The club.
    Club,
    /// Legs, feet and what stands on them.
    Legs,
    /// When things happen.
    Timing,
}

impl Part {
    /// As a heading.
    pub fn title(self) -> &'static str {
        match self {
            Part::Pelvis => "Pelvis",
            Part::Chest => "Chest",
            Part::Head => "Head",
            Part::Arms => "Arms and hands",
            Part::Club => "Club",
            Part::Legs => "Legs and feet",
            Part::Timing => "Timing",
        }
    }
}

/// What is said of a measure wherever it is shown.
struct About {
    part: Part,
    unit: Unit,
    plain: &'static str,
    /// Words for plus and for minus; empty where the number has no direction.
    directions: [&'static str; 2],
}

impl MeasureName {
    /// All, in order.
    pub const ALL: [MeasureName; 36] = [
        MeasureName::PelvisShift,
        MeasureName::PelvisTowardBall,
        MeasureName::PelvisTurn,
        MeasureName::PelvisSideBend,
        MeasureName::ChestTurn,
        MeasureName::ChestSideBend,
        MeasureName::ChestForwardBend,
        MeasureName::HeadShift,
        MeasureName::HeadRise,
        MeasureName::HeadTowardBall,
        MeasureName::LeadElbowFlexion,
        MeasureName::TrailElbowFlexion,
        MeasureName::TrailElbowAhead,
        MeasureName::HandDepth,
        MeasureName::HandHeight,
        MeasureName::HandsOverWayBack,
        MeasureName::ShaftLean,
        MeasureName::ShaftSlope,
        MeasureName::ShaftSteepening,
        MeasureName::WristSet,
        MeasureName::BallStart,
        MeasureName::KneeLineTurn,
        MeasureName::LeadKneeFlexion,
        MeasureName::TrailKneeFlexion,
        MeasureName::TrailKneeTowardBall,
        MeasureName::StanceWidth,
        MeasureName::MassOverFeet,
        MeasureName::BackswingTime,
        MeasureName::DownswingTime,
        MeasureName::TempoRatio,
        MeasureName::PelvisPeak,
        MeasureName::ChestPeak,
        MeasureName::LeadArmPeak,
        MeasureName::HandsPeak,
        MeasureName::ChestAfterPelvis,
        MeasureName::LeadArmAfterChest,
    ];

    /// The unit it is shown in.
    pub fn unit(self) -> Unit {
        self.about().unit
    }

    /// Where it is listed.
    pub fn part(self) -> Part {
        self.about().part
    }

    /// Its name as people say it.
    pub fn plain(self) -> &'static str {
        self.about().plain
    }

    /// What plus and minus mean, in words that follow the number; empty where it has no direction.
    pub fn directions(self) -> [&'static str; 2] {
        self.about().directions
    }

    /// True for a duration of the motion, or what is made of durations: it belongs to no one moment.
    pub fn is_timing(self) -> bool {
        self.part() == Part::Timing
    }

    fn about(self) -> About {
        use Part::{Arms, Chest, Club, Head, Legs, Pelvis, Timing};
        use Unit::{Centimetre, Degree, One, Percent, Second};
        let about = |part, unit, plain, directions| About {
            part,
            unit,
            plain,
            directions,
        };
        const TARGET: [&str; 2] = ["toward the target", "away from the target"];
        const BALL: [&str; 2] = ["toward the ball", "away from the ball"];
        const OPEN: [&str; 2] = ["more open", "more closed"];
        const HIGHER: [&str; 2] = ["lead side higher", "trail side higher"];
        const BENT: [&str; 2] = ["bent", "overstretched"];
        const IMPACT: [&str; 2] = ["before impact", "after impact"];
        const LATER: [&str; 2] = ["later", "earlier"];
        const NONE: [&str; 2] = ["", ""];
        match self {
            MeasureName::PelvisShift => about(Pelvis, Centimetre, "pelvis shift", TARGET),
            MeasureName::PelvisTowardBall => {
                about(Pelvis, Centimetre, "pelvis toward the ball", BALL)
            }
            MeasureName::PelvisTurn => about(Pelvis, Degree, "pelvis turn", OPEN),
            MeasureName::PelvisSideBend => about(Pelvis, Degree, "pelvis side bend", HIGHER),
            MeasureName::ChestTurn => about(Chest, Degree, "chest turn", OPEN),
            MeasureName::ChestSideBend => about(Chest, Degree, "chest side bend", HIGHER),
            MeasureName::ChestForwardBend => {
                about(Chest, Degree, "chest forward bend", ["forward", "backward"])
            }
            MeasureName::HeadShift => about(Head, Centimetre, "head shift", TARGET),
            MeasureName::HeadRise => about(Head, Centimetre, "head rise", ["up", "down"]),
            MeasureName::HeadTowardBall => about(Head, Centimetre, "head toward the ball", BALL),
            MeasureName::LeadElbowFlexion => about(Arms, Degree, "lead arm bend", BENT),
            MeasureName::TrailElbowFlexion => about(Arms, Degree, "trail elbow bend", BENT),
            MeasureName::TrailElbowAhead => about(
                Arms,
                Centimetre,
                "trail elbow",
                [
                    "ahead of the middle of the side",
                    "behind the middle of the side",
                ],
            ),
            MeasureName::HandDepth => about(Arms, Centimetre, "hands toward the ball", BALL),
            MeasureName::HandHeight => about(Arms, Centimetre, "hand height", ["higher", "lower"]),
            MeasureName::HandsOverWayBack => about(
                Arms,
                Centimetre,
                "hands against their way back",
                ["over", "under"],
            ),
            MeasureName::ShaftLean => {
                about(Club, Degree, "shaft lean", ["hands ahead", "hands behind"])
            }
            MeasureName::ShaftSlope => about(Club, Degree, "shaft slope", NONE),
            MeasureName::ShaftSteepening => about(
                Club,
                Degree,
                "shaft against its way back",
                ["steeper", "shallower"],
            ),
            MeasureName::WristSet => about(Club, Degree, "wrist set", ["set", ""]),
            MeasureName::BallStart => about(
                Club,
                Degree,
                "ball's start in the picture",
                ["away from the player", "toward the player"],
            ),
            MeasureName::KneeLineTurn => about(Legs, Degree, "knee line turn", OPEN),
            MeasureName::LeadKneeFlexion => about(Legs, Degree, "lead knee bend", BENT),
            MeasureName::TrailKneeFlexion => about(Legs, Degree, "trail knee bend", BENT),
            MeasureName::TrailKneeTowardBall => {
                about(Legs, Centimetre, "trail knee toward the ball", BALL)
            }
            MeasureName::StanceWidth => about(Legs, Centimetre, "stance width", NONE),
            MeasureName::MassOverFeet => about(
                Legs,
                Percent,
                "mass over the feet",
                [
                    "of the way from trail to lead ankle",
                    "beyond the trail ankle",
                ],
            ),
            MeasureName::BackswingTime => about(Timing, Second, "backswing time", NONE),
            MeasureName::DownswingTime => about(Timing, Second, "downswing time", NONE),
            MeasureName::TempoRatio => about(Timing, One, "backswing to downswing", NONE),
            MeasureName::PelvisPeak => about(Timing, Second, "pelvis turns fastest", IMPACT),
            MeasureName::ChestPeak => about(Timing, Second, "chest turns fastest", IMPACT),
            MeasureName::LeadArmPeak => about(Timing, Second, "lead arm swings fastest", IMPACT),
            MeasureName::HandsPeak => about(Timing, Second, "hands move fastest", IMPACT),
            MeasureName::ChestAfterPelvis => {
                about(Timing, Second, "chest peak after pelvis peak", LATER)
            }
            MeasureName::LeadArmAfterChest => {
                about(Timing, Second, "lead arm peak after chest peak", LATER)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_are_listed_once_part_by_part() {
        assert!(MeasureName::ALL.is_sorted_by(|a, b| a < b));
        let mut parts: Vec<Part> = MeasureName::ALL.map(MeasureName::part).to_vec();
        parts.dedup();
        assert!(parts.is_sorted_by(|a, b| a < b), "{parts:?}");
        let mut names = MeasureName::ALL.map(MeasureName::plain).to_vec();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), MeasureName::ALL.len());
    }
}
