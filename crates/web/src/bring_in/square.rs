//! A text as a square code that phones read (QR code, ISO/IEC 18004), drawn as SVG.

use qrcodegen::{QrCode, QrCodeEcc};
use std::fmt::Write;

/// Light border around the code, modules (ISO/IEC 18004, 6.3.8: four).
const BORDER: i32 = 4;

/// The drawing, dark on white also on a dark page; none for a text too long for any code.
pub fn square_code(text: &str) -> Option<String> {
    let code = QrCode::encode_text(text, QrCodeEcc::Medium).ok()?;
    let side = code.size() + 2 * BORDER;
    let mut dark = String::new();
    for y in 0..code.size() {
        for x in 0..code.size() {
            if code.get_module(x, y) {
                write!(dark, "M{},{}h1v1h-1z", x + BORDER, y + BORDER).expect("a text takes text");
            }
        }
    }
    Some(format!(
        "<svg class=\"square\" viewBox=\"0 0 {side} {side}\" role=\"img\" aria-label=\"Square code of the address below\" \
         shape-rendering=\"crispEdges\"><path fill=\"#fff\" d=\"M0,0h{side}v{side}h-{side}z\"/><path fill=\"#000\" d=\"{dark}\"/></svg>"
    ))
}
