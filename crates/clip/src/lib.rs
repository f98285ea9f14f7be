//! A swing as a film for the player: both views side by side, in step by the swing's moments, slowed near them and
//! held at them, with the lesson's lines and a few words under it.
//!
//! Values in, pictures out: [`Plan`] says which frame of each clip is shown when, [`Layout`] where things lie, and
//! [`Canvas`] paints one picture after the other. Decoding and encoding are `media`'s, words as pictures `print`'s.
//!
//! Times are real seconds from a clip's first frame; places are px.

mod canvas;
mod figure;
mod layout;
mod plan;

pub use canvas::{Canvas, Plate, Shot, panel};
pub use figure::{Limb, figure};
pub use layout::{Layout, Panel};
pub use plan::{Held, Plan, Shown, Watched};
