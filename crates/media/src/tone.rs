//! High-dynamic-range video (what newer phones record by default) brought to the standard range, so
//! that a grey card and a white shirt look as they do in any other clip.
//!
//! Luma goes through the standard's own curve to light, is held against diffuse white (ITU-R
//! BT.2408-7, table 1: 75 % of the signal in HLG, 203 cd/m² in PQ) and coded again; what is brighter
//! than that, such as glints, is cut. Colour differences are stretched by one factor. That costs a
//! table look-up a sample; it is no substitute for a colour grader's conversion.

use serde::{Deserialize, Serialize};

/// A transfer characteristic of ITU-R BT.2100 with more range than a standard picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) enum WideTone {
    /// Hybrid log-gamma.
    Hlg,
    /// Perceptual quantisation.
    Pq,
}

/// Colour differences of BT.2020's wider primaries, and of a signal that keeps room above white, are
/// smaller for the same colour by about this factor (a pure red of BT.709 at half of diffuse white).
const COLOUR_STRETCH: f64 = 1.3;

impl WideTone {
    /// From ffmpeg's name of the transfer characteristic.
    pub fn from_transfer(name: &str) -> Option<WideTone> {
        match name {
            "arib-std-b67" => Some(WideTone::Hlg),
            "smpte2084" => Some(WideTone::Pq),
            _ => None,
        }
    }

    /// The ffmpeg filter for 8-bit limited-range Y'CbCr, with a leading comma.
    pub fn filter(self) -> String {
        // `val` is the sample; variables 0 to 2 hold the signal and the light.
        let signal = "st(0,clip((val-16)/219,0,1))";
        // BT.2100-2 table 5, HLG: E = E'²/3 up to 1/2, else (exp((E' − c)/a) + b)/12; then the
        // camera curve of BT.709-6 (1.2), of E over that of diffuse white (0.75: 0.2650).
        let hlg = "st(1,if(lte(ld(0),0.5),ld(0)*ld(0)/3,\
                   (exp((ld(0)-0.55991073)/0.17883277)+0.28466892)/12)/0.2650);\
                   st(2,if(lt(ld(1),0.018),4.5*ld(1),1.099*pow(ld(1),0.45)-0.099))";
        // BT.2100-2 table 4, PQ: F = 10000 (max(E'^(1/m2) − c1, 0)/(c2 − c3 E'^(1/m2)))^(1/m1);
        // then the screen curve of BT.1886 (exponent 2.4), of F over 203 cd/m².
        let pq = "st(1,pow(ld(0),1/78.84375));\
                  st(2,pow(10000/203*pow(max(ld(1)-0.8359375,0)/(18.8515625-18.6875*ld(1)),\
                  1/0.1593017578125),1/2.4))";
        let curve = match self {
            WideTone::Hlg => hlg,
            WideTone::Pq => pq,
        };
        let colour = format!("clip(128+(val-128)*{COLOUR_STRETCH},16,240)");
        format!(",lutyuv=y='{signal};{curve};16+219*min(ld(2),1)':u='{colour}':v='{colour}'")
    }
}
