//! The ball flight the player reports, read from the trade's words.
//!
//! Nine flights by start and curve, plus the strikes that spoil one (reference-values H). A fade
//! and a draw are wanted curves, as is a straight ball: they give no reason to change.

use lessonwright_language::{Text, t};
use serde::{Deserialize, Serialize};

/// One kind of ball flight, the same word for both hands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[expect(missing_docs, reason = "the trade's own words")]
pub enum Flight {
    Straight,
    Fade,
    Draw,
    Slice,
    Hook,
    Pull,
    PullSlice,
    PullHook,
    Push,
    PushSlice,
    PushHook,
    Fat,
    Thin,
    Top,
    Shank,
    Toe,
    Heel,
    Sky,
    High,
    Low,
}

impl Flight {
    /// All of them.
    pub const ALL: [Flight; 20] = [
        Flight::Straight,
        Flight::Fade,
        Flight::Draw,
        Flight::Slice,
        Flight::Hook,
        Flight::Pull,
        Flight::PullSlice,
        Flight::PullHook,
        Flight::Push,
        Flight::PushSlice,
        Flight::PushHook,
        Flight::Fat,
        Flight::Thin,
        Flight::Top,
        Flight::Shank,
        Flight::Toe,
        Flight::Heel,
        Flight::Sky,
        Flight::High,
        Flight::Low,
    ];

    /// The trade's word.
    pub fn plain(self) -> &'static str {
        match self {
            Flight::Straight => "straight ball",
            Flight::Fade => "fade",
            Flight::Draw => "draw",
            Flight::Slice => "slice",
            Flight::Hook => "hook",
            Flight::Pull => "pull",
            Flight::PullSlice => "pull-slice",
            Flight::PullHook => "pull-hook",
            Flight::Push => "push",
            Flight::PushSlice => "push-slice",
            Flight::PushHook => "push-hook",
            Flight::Fat => "fat shot",
            Flight::Thin => "thin shot",
            Flight::Top => "top",
            Flight::Shank => "shank",
            Flight::Toe => "toe strike",
            Flight::Heel => "heel strike",
            Flight::Sky => "sky",
            Flight::High => "high, short flight",
            Flight::Low => "low flight",
        }
    }

    /// The word a player reads.
    pub fn text(self) -> Text {
        t(match self {
            Flight::Straight => "coaching-flight-straight",
            Flight::Fade => "coaching-flight-fade",
            Flight::Draw => "coaching-flight-draw",
            Flight::Slice => "coaching-flight-slice",
            Flight::Hook => "coaching-flight-hook",
            Flight::Pull => "coaching-flight-pull",
            Flight::PullSlice => "coaching-flight-pull-slice",
            Flight::PullHook => "coaching-flight-pull-hook",
            Flight::Push => "coaching-flight-push",
            Flight::PushSlice => "coaching-flight-push-slice",
            Flight::PushHook => "coaching-flight-push-hook",
            Flight::Fat => "coaching-flight-fat",
            Flight::Thin => "coaching-flight-thin",
            Flight::Top => "coaching-flight-top",
            Flight::Shank => "coaching-flight-shank",
            Flight::Toe => "coaching-flight-toe",
            Flight::Heel => "coaching-flight-heel",
            Flight::Sky => "coaching-flight-sky",
            Flight::High => "coaching-flight-high",
            Flight::Low => "coaching-flight-low",
        })
    }

    /// Its key in the trade's files.
    pub(crate) fn key(self) -> &'static str {
        match self {
            Flight::Straight => "straight",
            Flight::Fade => "fade",
            Flight::Draw => "draw",
            Flight::Slice => "slice",
            Flight::Hook => "hook",
            Flight::Pull => "pull",
            Flight::PullSlice => "pull_slice",
            Flight::PullHook => "pull_hook",
            Flight::Push => "push",
            Flight::PushSlice => "push_slice",
            Flight::PushHook => "push_hook",
            Flight::Fat => "fat",
            Flight::Thin => "thin",
            Flight::Top => "top",
            Flight::Shank => "shank",
            Flight::Toe => "toe",
            Flight::Heel => "heel",
            Flight::Sky => "sky",
            Flight::High => "high",
            Flight::Low => "low",
        }
    }

    /// Whether a player would want it gone.
    pub fn is_complaint(self) -> bool {
        !matches!(self, Flight::Straight | Flight::Fade | Flight::Draw)
    }
}

/// What was told of the ball flight.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Told {
    /// Nothing.
    Nothing,
    /// Something, but no known flight, or a sentence with a "not" in it.
    Unclear(String),
    /// Flights, in the order told, each once.
    Flights(Vec<Flight>),
}

impl Told {
    /// Reads free text ("a big slice", "pull-hooks", "fat and thin").
    pub fn read(text: Option<&str>) -> Told {
        let Some(text) = text.map(str::trim).filter(|text| !text.is_empty()) else {
            return Told::Nothing;
        };
        let lower = text.to_lowercase();
        let words: Vec<&str> = lower
            .split(|c: char| !c.is_alphabetic())
            .filter(|word| !word.is_empty())
            .collect();
        if words.iter().any(|word| NEGATIONS.contains(word)) {
            return Told::Unclear(text.to_string());
        }
        let mut flights = Vec::new();
        let mut at = 0;
        while at < words.len() {
            let (flight, taken) = flight_at(&words[at..]);
            if let Some(flight) = flight.filter(|flight| !flights.contains(flight)) {
                flights.push(flight);
            }
            at += taken;
        }
        if flights.is_empty() {
            Told::Unclear(text.to_string())
        } else {
            Told::Flights(flights)
        }
    }

    /// The flights a player would want gone.
    pub fn complaints(&self) -> Vec<Flight> {
        match self {
            Told::Flights(flights) => flights
                .iter()
                .copied()
                .filter(|f| f.is_complaint())
                .collect(),
            Told::Nothing | Told::Unclear(_) => Vec::new(),
        }
    }

    /// Whether the flight was told and gives no reason to change.
    pub fn is_content(&self) -> bool {
        matches!(self, Told::Flights(flights) if flights.iter().all(|f| !f.is_complaint()))
    }
}

/// "No slice", "used to hook": reading these as the flight would turn the answer round.
const NEGATIONS: [&str; 7] = ["no", "not", "never", "none", "without", "longer", "used"];

/// The flight that starts at the first word, and how many words it takes.
fn flight_at(words: &[&str]) -> (Option<Flight>, usize) {
    let first = words.first().and_then(|word| single(word));
    let second = words.get(1).and_then(|word| single(word));
    let pair = match (first, second) {
        (Some(Flight::Pull), Some(Flight::Slice)) => Some(Flight::PullSlice),
        (Some(Flight::Pull), Some(Flight::Hook)) => Some(Flight::PullHook),
        (Some(Flight::Push), Some(Flight::Slice)) => Some(Flight::PushSlice),
        (Some(Flight::Push), Some(Flight::Hook)) => Some(Flight::PushHook),
        (Some(Flight::Pull), Some(Flight::Fade)) => Some(Flight::Fade),
        (Some(Flight::Push), Some(Flight::Draw)) => Some(Flight::Draw),
        _ => None,
    };
    match pair {
        Some(flight) => (Some(flight), 2),
        None => (first, 1),
    }
}

/// One word of the trade, in any of its forms.
fn single(word: &str) -> Option<Flight> {
    Some(match word {
        "straight" => Flight::Straight,
        "fade" | "fades" | "fading" => Flight::Fade,
        "draw" | "draws" | "drawing" => Flight::Draw,
        "slice" | "slices" | "slicing" | "sliced" | "slicer" => Flight::Slice,
        "hook" | "hooks" | "hooking" | "hooked" => Flight::Hook,
        "pull" | "pulls" | "pulling" | "pulled" => Flight::Pull,
        "push" | "pushes" | "pushing" | "pushed" => Flight::Push,
        // A block is a push, most often with an open face (reference-values H).
        "block" | "blocks" | "blocking" | "blocked" => Flight::PushSlice,
        "fat" | "heavy" | "chunk" | "chunks" | "chunked" => Flight::Fat,
        "thin" | "thins" | "thinned" | "skull" | "skulls" | "bladed" => Flight::Thin,
        "top" | "tops" | "topped" | "topping" => Flight::Top,
        "shank" | "shanks" | "shanked" | "shanking" | "socket" => Flight::Shank,
        "toe" | "toes" | "toed" => Flight::Toe,
        "heel" | "heels" | "heeled" => Flight::Heel,
        "sky" | "skies" | "skied" => Flight::Sky,
        "high" | "ballooning" => Flight::High,
        "low" => Flight::Low,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_trades_words_are_read_in_any_form() {
        let cases: [(&str, &[Flight]); 11] = [
            ("off the heel", &[Flight::Heel]),
            ("slice", &[Flight::Slice]),
            ("A big SLICE with the driver", &[Flight::Slice]),
            ("pull-hooks", &[Flight::PullHook]),
            ("pull slice", &[Flight::PullSlice]),
            ("pulls and slices", &[Flight::Pull, Flight::Slice]),
            ("block", &[Flight::PushSlice]),
            ("fat and thin", &[Flight::Fat, Flight::Thin]),
            ("slice, slices", &[Flight::Slice]),
            ("push-draw", &[Flight::Draw]),
            ("straight", &[Flight::Straight]),
        ];
        for (text, flights) in cases {
            assert_eq!(
                Told::read(Some(text)),
                Told::Flights(flights.to_vec()),
                "{text}"
            );
        }
    }

    #[test]
    fn what_is_not_understood_is_not_guessed() {
        for text in ["no slice", "used to hook", "it goes well", "not straight"] {
            assert_eq!(Told::read(Some(text)), Told::Unclear(text.into()));
        }
        assert_eq!(Told::read(None), Told::Nothing);
        assert_eq!(Told::read(Some("  ")), Told::Nothing);
    }

    #[test]
    fn a_wanted_curve_is_no_complaint() {
        assert!(Told::read(Some("a little fade")).is_content());
        assert!(!Told::read(Some("fade, sometimes a slice")).is_content());
        assert!(!Told::Nothing.is_content());
    }
}
