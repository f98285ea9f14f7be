//! The blocks of one session: warm-up, self-check, drill, mixed, as on the course; as many swings as time and the
//! player's most allow, the drill before all.

use super::rules::{PracticeRules, is_junior};
use crate::care::Dose;
use lessonwright_language::{Text, t};
use lessonwright_model::{Block, BlockKind, Drill, Practice, PracticePlace};

/// What all sessions of a plan are built from.
pub(super) struct Builder<'a> {
    pub(super) rules: &'a PracticeRules,
    pub(super) practice: &'a Practice,
    pub(super) drill: &'a Drill,
    pub(super) dose: &'a Dose,
    pub(super) age_years: Option<u32>,
    /// Most swings of a session.
    pub(super) most_swings: u32,
}

/// Swings filmed for a check: the middle one of three is compared.
const FILMED: u32 = 3;
/// A round of fewer swings is not worth its rest. Ours.
const FEWEST_IN_A_ROUND: u32 = 3;

/// What is left of a session.
struct Left {
    time_s: u32,
    swings: u32,
}

impl Builder<'_> {
    /// The blocks of session `index` of `count`, filmed or not.
    pub(super) fn blocks(&self, index: usize, count: usize, filmed: bool) -> Vec<Block> {
        let mut left = Left {
            time_s: self.practice.minutes * 60,
            swings: self.most_swings,
        };
        let third = 3 * index / count;
        let mut blocks = vec![self.warm_up()];
        left.time_s = left.time_s.saturating_sub(self.rules.warm_up_s);
        let mut add = |block: Option<Block>, left: &mut Left| {
            if let Some(block) = block {
                left.time_s = left.time_s.saturating_sub(block.time_s);
                left.swings = left.swings.saturating_sub(block.all_swings());
                blocks.push(block);
            }
        };
        if filmed {
            add(self.check(&left), &mut left);
        }
        add(self.drill(index, count, third, &left), &mut left);
        if third == 2 {
            // Kept free for what comes last.
            let last = self.as_played(&left);
            let kept = last.as_ref().map_or(0, |block| block.time_s);
            let kept_swings = last.as_ref().map_or(0, Block::all_swings);
            let mut before = Left {
                time_s: left.time_s - kept.min(left.time_s),
                swings: left.swings - kept_swings.min(left.swings),
            };
            add(self.mixed(&before), &mut before);
            add(last, &mut left);
        } else if third == 1 {
            add(self.mixed(&left), &mut left);
        }
        blocks
    }

    fn warm_up(&self) -> Block {
        Block {
            kind: BlockKind::WarmUp,
            says: self.say(&t("coaching-warm-up")),
            rounds: 0,
            swings: 0,
            balls: 0,
            rest_s: 0,
            time_s: self.rules.warm_up_s,
            look: String::new(),
        }
    }

    fn check(&self, left: &Left) -> Option<Block> {
        let fits = left.time_s >= self.rules.check_s && left.swings >= FILMED;
        fits.then(|| Block {
            kind: BlockKind::Check,
            says: self.say(&t("coaching-check").with("swings", FILMED)),
            rounds: 1,
            swings: FILMED,
            balls: if self.has_ball() { FILMED } else { 0 },
            rest_s: 0,
            time_s: self.rules.check_s,
            look: self.say(&t("coaching-check-look")),
        })
    }

    fn drill(&self, index: usize, count: usize, third: usize, left: &Left) -> Option<Block> {
        let (rung, with_ball) = self.rung(index, count);
        let swing_s = if with_ball {
            self.rules.ball_s
        } else {
            self.rules.swing_s
        };
        let rest_s = self.dose.rest_s;
        let fits = |rounds: u32, swings: u32| {
            Dose::seconds(rounds, swings, swing_s, rest_s) <= left.time_s
                && rounds * swings <= left.swings
        };
        let most = (1..=self.dose.rounds)
            .rev()
            .find(|rounds| fits(*rounds, self.dose.swings))
            .map(|rounds| (rounds, self.dose.swings));
        let fewer = || {
            let swings = (FEWEST_IN_A_ROUND..self.dose.swings).rev();
            swings
                .map(|swings| (1, swings))
                .find(|(rounds, swings)| fits(*rounds, *swings))
        };
        let (rounds, swings) = most.or_else(fewer)?;
        Some(Block {
            kind: BlockKind::Drill,
            says: format!("{}. {rung}", self.drill.title),
            rounds,
            swings,
            balls: if with_ball { swings } else { 0 },
            rest_s,
            time_s: Dose::seconds(rounds, swings, swing_s, rest_s),
            look: self.say(&match third {
                0 => t("coaching-look-each-round"),
                _ => t("coaching-look-last-round"),
            }),
        })
    }

    /// Another club, target or picture every time.
    fn mixed(&self, left: &Left) -> Option<Block> {
        let says = match self.practice.place {
            PracticePlace::Home => t("coaching-mixed-home"),
            PracticePlace::Mat => t("coaching-mixed-mat"),
            PracticePlace::Range => t("coaching-mixed-range"),
            PracticePlace::Course => t("coaching-mixed-course"),
        };
        let says = match is_junior(self.age_years) {
            true => t("coaching-mixed-game").with("mixed", says),
            false => says,
        };
        let each_s = self.each_s();
        let swings = (left.time_s / each_s)
            .min(left.swings)
            .min(self.rules.mixed_ball_most);
        (swings >= FEWEST_IN_A_ROUND).then(|| Block {
            kind: BlockKind::Mixed,
            says: self.say(&says),
            rounds: 1,
            swings,
            balls: if self.has_ball() { swings } else { 0 },
            rest_s: 0,
            time_s: swings * each_s,
            look: self.say(&t("coaching-mixed-look")),
        })
    }

    fn as_played(&self, left: &Left) -> Option<Block> {
        let swings = self.rules.as_played_balls;
        // A routine takes twice the time of a ball.
        let time_s = 2 * self.each_s() * swings;
        let fits = left.time_s >= time_s && left.swings >= swings;
        (fits && self.has_ball()).then(|| Block {
            kind: BlockKind::AsPlayed,
            says: self.say(&t("coaching-as-played")),
            rounds: 1,
            swings,
            balls: swings,
            rest_s: 0,
            time_s,
            look: self.say(&t("coaching-as-played-look").with("swings", swings)),
        })
    }

    /// The step of the drill's own ladder, from slow to what the place allows, and whether it has a ball.
    fn rung(&self, index: usize, count: usize) -> (String, bool) {
        const BALL: usize = 3;
        let steps: &[usize] = match self.practice.place {
            PracticePlace::Home => &[0, 1, 2],
            PracticePlace::Mat | PracticePlace::Range => &[0, 1, 2, 3],
            PracticePlace::Course => &[1, 3, 4],
        };
        let step = steps[steps.len() * index / count];
        let text = self
            .drill
            .progressions
            .get(step)
            .cloned()
            .unwrap_or_default();
        (text, step >= BALL)
    }

    fn say(&self, text: &Text) -> String {
        self.rules.say().text(text)
    }

    fn has_ball(&self) -> bool {
        self.practice.place != PracticePlace::Home
    }

    fn each_s(&self) -> u32 {
        if self.has_ball() {
            self.rules.ball_s
        } else {
            self.rules.swing_s
        }
    }
}
