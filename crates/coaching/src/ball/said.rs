//! What was seen, read from a professional's words: "left", "3 R", "slight left", "12 m right".

use super::quantity::{Kind, read_quantity};
use super::seen::{Bend, Curve, Start, Way};

impl Way {
    fn read(word: &str) -> Option<Way> {
        match word {
            "left" | "l" => Some(Way::Left),
            "right" | "r" => Some(Way::Right),
            _ => None,
        }
    }
}

impl Start {
    /// "straight", "left", "right", or degrees with a side: "3 R", "2.5 left".
    ///
    /// # Errors
    /// What was expected.
    pub fn read(text: &str) -> Result<Start, String> {
        let word = text.trim().to_lowercase();
        if has_digit(&word) {
            return read_quantity(&word, Kind::Angle).map(Start::About);
        }
        match (word.as_str(), Way::read(&word)) {
            (_, Some(way)) => Ok(Start::To(way)),
            ("straight" | "on line", None) => Ok(Start::Straight),
            _ => Err(format!(
                "\"{text}\": say left, straight or right, or degrees with a side (3 R)"
            )),
        }
    }
}

impl Curve {
    /// "none", "left", "slight right", "big left", or a length with a side: "12 m right".
    /// Without an amount it is a clear curve.
    ///
    /// # Errors
    /// What was expected.
    pub fn read(text: &str) -> Result<Curve, String> {
        let lower = text.trim().to_lowercase();
        if has_digit(&lower) {
            return read_quantity(&lower, Kind::Length).map(Curve::About);
        }
        let (mut way, mut bend) = (None, Bend::Clear);
        for word in lower.split_whitespace() {
            match (word, Way::read(word)) {
                (_, Some(side)) if way.is_none() => way = Some(side),
                ("none" | "straight", _) if lower == word => return Ok(Curve::None),
                ("slight" | "slightly", _) => bend = Bend::Slight,
                ("clear" | "clearly", _) => bend = Bend::Clear,
                ("big", _) => bend = Bend::Big,
                _ => return Err(Curve::expected(text)),
            }
        }
        way.map(|way| Curve::To(way, bend))
            .ok_or_else(|| Curve::expected(text))
    }

    fn expected(text: &str) -> String {
        format!(
            "\"{text}\": say none, left or right, with slight or big if it was, or how far it landed \
             beside its start line (12 m right)"
        )
    }
}

fn has_digit(text: &str) -> bool {
    text.contains(|c: char| c.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn starts_are_read() {
        assert_eq!(Start::read("Left"), Ok(Start::To(Way::Left)));
        assert_eq!(Start::read("straight"), Ok(Start::Straight));
        assert_eq!(
            Start::read("3 R"),
            Ok(Start::About(3_f64 * (1_f64).to_radians()))
        );
        assert!(Start::read("up").unwrap_err().contains("straight"));
    }

    #[test]
    fn curves_are_read() {
        let cases = [
            ("none", Curve::None),
            ("right", Curve::To(Way::Right, Bend::Clear)),
            ("slight left", Curve::To(Way::Left, Bend::Slight)),
            ("Big Right", Curve::To(Way::Right, Bend::Big)),
            ("12 m left", Curve::About(-12.0)),
        ];
        for (text, curve) in cases {
            assert_eq!(Curve::read(text), Ok(curve), "{text}");
        }
        for text in ["slice", "left right", "slight", "", "12 left", "none left"] {
            assert!(Curve::read(text).is_err(), "{text}");
        }
    }
}
