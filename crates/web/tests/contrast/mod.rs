//! Contrast of the colours of a style sheet.

/// A colour of a block of custom properties, as #rrggbb.
pub fn colour(scheme: &str, name: &str) -> String {
    let name = format!("--{name}: ");
    let start = scheme.find(&name).unwrap() + name.len();
    scheme[start..start + 7].to_string()
}

/// WCAG 2.2 contrast ratio: (L₁ + 0.05) / (L₂ + 0.05), L the relative luminance.
pub fn contrast(a: &str, b: &str) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// L = 0.2126 R + 0.7152 G + 0.0722 B of linear-light sRGB.
fn luminance(hex: &str) -> f64 {
    let channel = |at: usize| {
        let v = f64::from(u8::from_str_radix(&hex[at..at + 2], 16).unwrap()) / 255.0;
        if v <= 0.04045 {
            v / 12.92
        } else {
            ((v + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
}
