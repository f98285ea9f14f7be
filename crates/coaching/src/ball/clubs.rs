//! Kinds of club, and what is usual with each where nothing was measured.
//!
//! The usual values are wide on purpose, for players of all levels: common practice, no source,
//! but for spin and ball speed, which hold the middle nine tenths of 474 measured shots where there
//! were any (driver, fairway wood, irons; `docs/ball.md`).

use lessonwright_language::{Text, t};
use serde::{Deserialize, Serialize};

/// A kind of club: those whose usual launch differs enough to matter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ClubKind {
    /// The longest wood.
    Driver,
    /// The other woods.
    FairwayWood,
    /// A long iron's stand-in with the head of a small wood.
    Hybrid,
    /// Irons 1 to 5.
    LongIron,
    /// Irons 6 and 7.
    MidIron,
    /// Irons 8 and 9.
    ShortIron,
    /// More loft than a 9 iron.
    Wedge,
}

/// A mean and how far two thirds of all strikes lie around it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spread {
    pub(super) mean: f64,
    pub(super) sd: f64,
}

/// From and to, all alike likely.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Between(pub(super) f64, pub(super) f64);

/// What is usual with a kind of club. Degrees, rpm and millimetres, as such tables are read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Usual {
    pub(super) launch_deg: Spread,
    pub(super) attack_deg: Spread,
    pub(super) ball_speed_m_s: Spread,
    pub(super) spin_rpm: Spread,
    /// The head's centre of mass behind the face.
    pub(super) depth_mm: Between,
    /// Moment of inertia about the vertical, 10⁻⁴ kg·m² (1000 g·cm²).
    pub(super) inertia: Between,
    /// Radius of the bulge; none for a flat face.
    pub(super) bulge_mm: Option<Between>,
}

const fn about(mean: f64, sd: f64) -> Spread {
    Spread { mean, sd }
}

impl ClubKind {
    /// All, longest first.
    pub const ALL: [ClubKind; 7] = [
        ClubKind::Driver,
        ClubKind::FairwayWood,
        ClubKind::Hybrid,
        ClubKind::LongIron,
        ClubKind::MidIron,
        ClubKind::ShortIron,
        ClubKind::Wedge,
    ];

    /// Its name in forms, files and the store: `mid_iron`.
    pub fn key(self) -> &'static str {
        match self {
            ClubKind::Driver => "driver",
            ClubKind::FairwayWood => "fairway_wood",
            ClubKind::Hybrid => "hybrid",
            ClubKind::LongIron => "long_iron",
            ClubKind::MidIron => "mid_iron",
            ClubKind::ShortIron => "short_iron",
            ClubKind::Wedge => "wedge",
        }
    }

    /// The kind of a key; none if there is no such.
    pub fn of_key(key: &str) -> Option<ClubKind> {
        ClubKind::ALL.into_iter().find(|club| club.key() == key)
    }

    /// In plain words.
    pub fn plain(self) -> &'static str {
        match self {
            ClubKind::Driver => "driver",
            ClubKind::FairwayWood => "fairway wood",
            ClubKind::Hybrid => "hybrid",
            ClubKind::LongIron => "long iron",
            ClubKind::MidIron => "mid iron",
            ClubKind::ShortIron => "short iron",
            ClubKind::Wedge => "wedge",
        }
    }

    /// The same, in every language.
    pub fn text(self) -> Text {
        t(match self {
            ClubKind::Driver => "word-club-driver",
            ClubKind::FairwayWood => "word-club-fairway-wood",
            ClubKind::Hybrid => "word-club-hybrid",
            ClubKind::LongIron => "word-club-long-iron",
            ClubKind::MidIron => "word-club-mid-iron",
            ClubKind::ShortIron => "word-club-short-iron",
            ClubKind::Wedge => "word-club-wedge",
        })
    }

    /// Whether its head is deep and its face bulged, so that a strike off the centre curves the ball.
    pub fn has_gear_effect(self) -> bool {
        self.usual().bulge_mm.is_some()
    }

    /// Reads a club as people write it: "driver", "3 wood", "4h", "7 iron", "I7", "PW", "56°".
    pub fn read(text: &str) -> Option<ClubKind> {
        let lower = text.to_lowercase();
        let words: Vec<&str> = lower
            .split(|c: char| !c.is_alphabetic())
            .filter(|word| !word.is_empty())
            .collect();
        let digits: String = lower
            .chars()
            .skip_while(|c| !c.is_ascii_digit())
            .take_while(char::is_ascii_digit)
            .collect();
        let number: Option<u32> = digits.parse().ok();
        let says = |any: &[&str]| words.iter().any(|word| any.contains(word));
        if says(&["driver", "dr", "d"]) {
            Some(ClubKind::Driver)
        } else if says(&["wedge", "pw", "gw", "aw", "sw", "lw", "uw"]) {
            Some(ClubKind::Wedge)
        } else if says(&["hybrid", "hybrids", "hy", "hyb", "h", "rescue"]) {
            Some(ClubKind::Hybrid)
        } else if says(&["wood", "woods", "fairway", "w", "fw"]) {
            Some(match number {
                Some(1) => ClubKind::Driver,
                _ => ClubKind::FairwayWood,
            })
        } else if says(&["long"]) {
            Some(ClubKind::LongIron)
        } else if says(&["mid", "middle"]) {
            Some(ClubKind::MidIron)
        } else if says(&["short"]) {
            Some(ClubKind::ShortIron)
        } else {
            by_number(number?, says(&["iron", "irons", "i"]), words.is_empty())
        }
    }

    /// Launch angle above the level where none was measured, degrees.
    pub fn usual_launch_deg(self) -> f64 {
        self.usual().launch_deg.mean
    }

    pub(super) fn usual(self) -> Usual {
        let (launch_deg, attack_deg, ball_speed_m_s, spin_rpm) = match self {
            ClubKind::Driver => (
                about(12.0, 3.5),
                about(0.0, 3.0),
                about(57.0, 6.0),
                about(2300.0, 800.0),
            ),
            ClubKind::FairwayWood => (
                about(12.0, 3.0),
                about(-2.0, 2.0),
                about(56.0, 6.0),
                about(2600.0, 900.0),
            ),
            ClubKind::Hybrid => (
                about(14.0, 3.0),
                about(-2.5, 2.0),
                about(52.0, 6.0),
                about(3400.0, 1000.0),
            ),
            ClubKind::LongIron => (
                about(14.0, 3.0),
                about(-3.0, 2.0),
                about(50.0, 5.0),
                about(3300.0, 1000.0),
            ),
            ClubKind::MidIron => (
                about(18.0, 3.0),
                about(-3.5, 2.0),
                about(46.0, 5.0),
                about(4500.0, 1200.0),
            ),
            ClubKind::ShortIron => (
                about(23.0, 4.0),
                about(-4.0, 2.0),
                about(43.0, 5.0),
                about(5300.0, 1500.0),
            ),
            ClubKind::Wedge => (
                about(29.0, 5.0),
                about(-4.5, 2.5),
                about(35.0, 7.0),
                about(7000.0, 2000.0),
            ),
        };
        let (depth_mm, inertia, bulge_mm) = match self {
            ClubKind::Driver => (
                Between(28.0, 40.0),
                Between(3.8, 5.6),
                Some(Between(250.0, 360.0)),
            ),
            ClubKind::FairwayWood => (
                Between(16.0, 28.0),
                Between(2.2, 3.4),
                Some(Between(230.0, 330.0)),
            ),
            ClubKind::Hybrid => (
                Between(10.0, 20.0),
                Between(2.2, 3.2),
                Some(Between(250.0, 600.0)),
            ),
            _ => (Between(3.0, 10.0), Between(2.0, 3.2), None),
        };
        Usual {
            launch_deg,
            attack_deg,
            ball_speed_m_s,
            spin_rpm,
            depth_mm,
            inertia,
            bulge_mm,
        }
    }
}

/// "7", "i7", "56".
fn by_number(number: u32, iron: bool, bare: bool) -> Option<ClubKind> {
    match number {
        _ if !iron && !bare => None,
        1..=5 => Some(ClubKind::LongIron),
        6..=7 => Some(ClubKind::MidIron),
        8..=9 => Some(ClubKind::ShortIron),
        // Wedges are named by their loft.
        44..=64 => Some(ClubKind::Wedge),
        _ => None,
    }
}

impl std::fmt::Display for ClubKind {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.plain())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clubs_are_read_as_people_write_them() {
        let cases = [
            ("Driver", Some(ClubKind::Driver)),
            ("1W", Some(ClubKind::Driver)),
            ("w1", Some(ClubKind::Driver)),
            ("3 Wood", Some(ClubKind::FairwayWood)),
            ("4h", Some(ClubKind::Hybrid)),
            ("4 iron", Some(ClubKind::LongIron)),
            ("7i", Some(ClubKind::MidIron)),
            ("I7", Some(ClubKind::MidIron)),
            ("7", Some(ClubKind::MidIron)),
            ("Iron 9", Some(ClubKind::ShortIron)),
            ("PW", Some(ClubKind::Wedge)),
            ("sand wedge", Some(ClubKind::Wedge)),
            ("56°", Some(ClubKind::Wedge)),
            ("mid iron", Some(ClubKind::MidIron)),
            ("putter", None),
            ("Session 7", None),
            ("", None),
        ];
        for (text, kind) in cases {
            assert_eq!(ClubKind::read(text), kind, "{text:?}");
        }
    }

    #[test]
    fn each_kinds_own_name_is_read_as_itself() {
        for kind in ClubKind::ALL {
            assert_eq!(ClubKind::read(kind.plain()), Some(kind));
        }
    }
}
