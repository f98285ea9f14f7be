//! What a player answered before any exercise is prescribed. The tool does not diagnose: the rules that read these
//! answers (`coaching`, `data/screening.toml`) only decide whether an exercise is offered, offered in a lower dose,
//! or left to a physician.

use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// The answers of one day. What is not said in detail is not needed in detail: of a condition only that there is one.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Screening {
    /// When it was asked.
    pub asked_at: Timestamp,
    /// Where it hurts and how much; none if nothing does.
    pub pains: Vec<Pain>,
    /// Pain that spreads, numbness, weakness, dizziness, or pain in the chest.
    pub warning_signs: bool,
    /// An injury that has not healed.
    pub injury: bool,
    /// The last surgery, months before `asked_at`; none if none is known.
    pub surgery_months_ago: Option<u32>,
    /// Medicine that makes dizzy or sleepy, or otherwise affects balance.
    pub balance_medicine: bool,
    /// Something for which a physician is asked before exercise: heart, brittle bones, pregnancy.
    pub condition: bool,
    /// Anything else the player told; empty if nothing.
    pub other: String,
    /// A physician or physiotherapist who knows of the above and agreed to practice.
    pub cleared: Option<Cleared>,
}

/// One place that hurts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pain {
    /// Where.
    pub area: BodyArea,
    /// How much, from 1 to [`STRONGEST_PAIN`] on the numeric rating scale.
    pub strength: u8,
}

/// The top of the numeric rating scale ("the worst pain imaginable"); 0 is none.
pub const STRONGEST_PAIN: u8 = 10;

/// Who agreed to practice, and when.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Cleared {
    /// "Dr. …, physiotherapist".
    pub by: String,
    /// The day.
    pub on: Date,
}

/// A part of the body that can hurt; sides do not matter for what may be prescribed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BodyArea {
    /// Lower back.
    LowBack,
    /// Upper back or ribs.
    UpperBack,
    /// Neck.
    Neck,
    /// Shoulder.
    Shoulder,
    /// Elbow.
    Elbow,
    /// Wrist or hand.
    WristHand,
    /// Hip or groin.
    Hip,
    /// Knee.
    Knee,
    /// Ankle or foot.
    AnkleFoot,
    /// Chest.
    Chest,
    /// Anywhere else.
    Elsewhere,
}

impl BodyArea {
    /// All, in the order in which they are asked.
    pub const ALL: [BodyArea; 11] = [
        BodyArea::LowBack,
        BodyArea::UpperBack,
        BodyArea::Neck,
        BodyArea::Shoulder,
        BodyArea::Elbow,
        BodyArea::WristHand,
        BodyArea::Hip,
        BodyArea::Knee,
        BodyArea::AnkleFoot,
        BodyArea::Chest,
        BodyArea::Elsewhere,
    ];

    /// Its name in a form, a command and a rule: `low_back`.
    pub fn key(self) -> &'static str {
        match self {
            BodyArea::LowBack => "low_back",
            BodyArea::UpperBack => "upper_back",
            BodyArea::Neck => "neck",
            BodyArea::Shoulder => "shoulder",
            BodyArea::Elbow => "elbow",
            BodyArea::WristHand => "wrist_hand",
            BodyArea::Hip => "hip",
            BodyArea::Knee => "knee",
            BodyArea::AnkleFoot => "ankle_foot",
            BodyArea::Chest => "chest",
            BodyArea::Elsewhere => "elsewhere",
        }
    }

    /// In plain words.
    pub fn plain(self) -> &'static str {
        match self {
            BodyArea::LowBack => "lower back",
            BodyArea::UpperBack => "upper back or ribs",
            BodyArea::Neck => "neck",
            BodyArea::Shoulder => "shoulder",
            BodyArea::Elbow => "elbow",
            BodyArea::WristHand => "wrist or hand",
            BodyArea::Hip => "hip or groin",
            BodyArea::Knee => "knee",
            BodyArea::AnkleFoot => "ankle or foot",
            BodyArea::Chest => "chest",
            BodyArea::Elsewhere => "elsewhere",
        }
    }

    /// The area of a key; none if there is no such.
    pub fn of_key(key: &str) -> Option<BodyArea> {
        BodyArea::ALL.into_iter().find(|area| area.key() == key)
    }
}

impl Pain {
    /// Reads "low_back=4", as a command takes it.
    ///
    /// # Errors
    /// What is wrong, in words for a person.
    pub fn read(text: &str) -> Result<Pain, String> {
        let areas = || BodyArea::ALL.map(BodyArea::key).join(", ");
        let (area, strength) = text
            .split_once('=')
            .ok_or_else(|| format!("\"{text}\": write AREA=0..10, with one of {}", areas()))?;
        let area = BodyArea::of_key(area.trim())
            .ok_or_else(|| format!("there is no area \"{area}\": write one of {}", areas()))?;
        let strength = strength.trim().parse().ok();
        let strength = strength.filter(|s| *s <= STRONGEST_PAIN).ok_or_else(|| {
            format!("how strong is the pain in \"{text}\"? Give a whole number from 0 to {STRONGEST_PAIN}")
        })?;
        Ok(Pain { area, strength })
    }
}

impl Screening {
    /// Answers of somebody who has nothing to tell.
    pub fn nothing(asked_at: Timestamp) -> Screening {
        Screening {
            asked_at,
            pains: Vec::new(),
            warning_signs: false,
            injury: false,
            surgery_months_ago: None,
            balance_medicine: false,
            condition: false,
            other: String::new(),
            cleared: None,
        }
    }

    /// The answers on record with what hurts now. Who agreed to practice before did not know of it; what hurt before and is not
    /// told of now stays: only who is asked face to face takes it back.
    pub fn with_pains(before: Option<&Screening>, pains: &[Pain], now: Timestamp) -> Screening {
        let mut screening = before.cloned().unwrap_or_else(|| Screening::nothing(now));
        screening.asked_at = now;
        screening.cleared = None;
        for pain in pains {
            screening.pains.retain(|known| known.area != pain.area);
            screening.pains.push(*pain);
        }
        screening
    }

    /// The strongest pain told, 0 if none.
    pub fn strongest(&self) -> u8 {
        self.pains
            .iter()
            .map(|pain| pain.strength)
            .max()
            .unwrap_or(0)
    }

    /// Looks whether the answers can be.
    ///
    /// # Errors
    /// What is wrong, in words for a person: a strength beyond the scale, or a clearance by nobody or after the answers.
    pub fn check(&self) -> Result<(), String> {
        if let Some(pain) = self
            .pains
            .iter()
            .find(|pain| pain.strength > STRONGEST_PAIN)
        {
            return Err(format!(
                "Pain is told from 0 to {STRONGEST_PAIN}, not {}.",
                pain.strength
            ));
        }
        let Some(cleared) = &self.cleared else {
            return Ok(());
        };
        // A day is not the same day everywhere: one day of grace.
        let asked_on = self.asked_at.to_zoned(jiff::tz::TimeZone::UTC).date();
        if cleared.by.trim().is_empty() {
            Err("Who agreed to practice? Give the physician's or physiotherapist's name.".into())
        } else if cleared.on.saturating_sub(jiff::Span::new().days(1)) > asked_on {
            Err("The day on which a physician agreed lies in the future.".into())
        } else {
            Ok(())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pain_is_read_as_it_is_typed() {
        let back = Pain {
            area: BodyArea::LowBack,
            strength: 4,
        };
        assert_eq!(Pain::read("low_back = 4"), Ok(back));
        for wrong in [
            "low_back", "back=4", "knee=11", "knee=-1", "knee=", "=3", "knee=2.5",
        ] {
            assert!(Pain::read(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn every_area_has_a_key_of_its_own() {
        for area in BodyArea::ALL {
            assert_eq!(BodyArea::of_key(area.key()), Some(area));
            let json = serde_json::to_value(area).unwrap();
            assert_eq!(json, area.key());
        }
    }

    #[test]
    fn answers_that_cannot_be_are_refused() {
        let at = Timestamp::from_second(1_795_597_200).unwrap(); // 25 November 2026
        let cleared = |by: &str, day| Screening {
            cleared: Some(Cleared {
                by: by.into(),
                on: Date::constant(2026, 11, day),
            }),
            ..Screening::nothing(at)
        };
        assert_eq!(cleared("Dr. Roe", 25).check(), Ok(()));
        assert!(cleared(" ", 25).check().is_err());
        assert!(cleared("Dr. Roe", 29).check().is_err());
        let beyond = Pain {
            area: BodyArea::Knee,
            strength: 11,
        };
        let pains = vec![beyond];
        assert!(
            Screening {
                pains,
                ..Screening::nothing(at)
            }
            .check()
            .is_err()
        );
    }
}
