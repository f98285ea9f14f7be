//! Numbers as people type them.

/// A number with a point or a comma, and any minus; none if it is none, nor if it is not finite.
pub(crate) fn decimal(text: &str) -> Option<f64> {
    let plain = text.trim().replace(',', ".").replace('−', "-");
    plain.parse().ok().filter(|number: &f64| number.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_as_people_type_them_and_nothing_else_is_one() {
        for (text, read) in [(" 181,5 ", 181.5), ("2.5", 2.5), ("−3", -3.0), ("-3", -3.0)] {
            assert_eq!(decimal(text), Some(read), "{text}");
        }
        for text in ["", " ", "tall", "nan", "inf", "1 2", "2.5 cm"] {
            assert_eq!(decimal(text), None, "{text}");
        }
    }
}
