//! Pictures of drills: a figure that does what the drill asks for, slowly, with what stands around it.
//!
//! `drills.toml` says of every drill which swing it is made of, at which of its instants the figure
//! stops, where the hands are, and what is there. [`sheet`] reads it, [`play`] makes it move.

pub mod hands;
mod mix;
pub mod play;
pub mod sheet;

pub use play::Play;
pub use sheet::{DrillSheet, SheetError, Sheets};

use crate::film::Film;
use crate::scene::{Behind, Picture};

/// The paper that drills are drawn on, R'G'B'.
pub const PAPER: [u8; 3] = [0xf4, 0xf2, 0xec];

/// Frames a second of a moving drill.
pub const RATE_HZ: f64 = 10.0;

/// The moving drill: RGB bytes of each frame, [`RATE_HZ`] a second.
pub fn moving(sheet: &DrillSheet, size_px: [usize; 2], samples: usize) -> Vec<Vec<u8>> {
    let play = Play::of(sheet);
    let count = (play.length_s() * RATE_HZ).round() as usize;
    let times: Vec<f64> = (0..count).map(|i| i as f64 / RATE_HZ).collect();
    frames(sheet, &play, &times, size_px, samples)
}

/// The drill's stills, in its order.
pub fn stills(sheet: &DrillSheet, size_px: [usize; 2], samples: usize) -> Vec<Vec<u8>> {
    let play = Play::of(sheet);
    let times: Vec<f64> = sheet
        .stills
        .iter()
        .map(|&step| play.reached_s(step))
        .collect();
    frames(sheet, &play, &times, size_px, samples)
}

fn frames(
    sheet: &DrillSheet,
    play: &Play,
    times_s: &[f64],
    size_px: [usize; 2],
    samples: usize,
) -> Vec<Vec<u8>> {
    let params = sheet.swing();
    let camera = sheet.camera(play, size_px);
    let paper = Picture {
        size_px: [1, 1],
        rgb: PAPER.to_vec(),
    };
    let film = Film::before(params, play, camera, samples, &Behind::Picture(&paper));
    times_s.iter().map(|&t| film.frame(t, 0)).collect()
}
