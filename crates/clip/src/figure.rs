//! A captured body as a picture: limbs as round strokes, the far ones first.

use tiny_skia::{Color, LineCap, Paint, PathBuilder, Pixmap, Stroke, Transform};

/// A stroke between two places of the picture; of no length it is a disc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limb {
    /// Its ends, px from the upper left corner.
    pub ends: [[f64; 2]; 2],
    /// Its thickness, px.
    pub thick_px: f64,
    /// Red, green, blue.
    pub colour: [u8; 3],
}

/// Paper, ground and the line between limbs that cross.
const PAPER: [u8; 3] = [0xf1, 0xee, 0xe8];
const GROUND: [u8; 3] = [0xd9, 0xd3, 0xc7];
const EDGE_PX: f64 = 3.0;

/// The picture: row-major, 4 bytes a pixel (red, green, blue, opaque). The ground begins at a row.
///
/// # Panics
/// If the picture has no size.
pub fn figure([width, height]: [u32; 2], ground_px: f64, limbs: &[Limb]) -> Vec<u8> {
    let mut pixels = Pixmap::new(width, height).expect("a picture has a size");
    pixels.fill(colour(PAPER));
    let (below, deep) = (f64::from(height), 2.0 * (f64::from(height) - ground_px));
    let ground = [[-deep, below], [f64::from(width) + deep, below]];
    stroke(&mut pixels, ground, deep, GROUND);
    for limb in limbs {
        stroke(&mut pixels, limb.ends, limb.thick_px + 2.0 * EDGE_PX, PAPER);
        stroke(&mut pixels, limb.ends, limb.thick_px, limb.colour);
    }
    pixels.take()
}

fn stroke(pixels: &mut Pixmap, [from, to]: [[f64; 2]; 2], thick_px: f64, rgb: [u8; 3]) {
    let mut path = PathBuilder::new();
    path.move_to(from[0] as f32, from[1] as f32);
    // A line of no length would not be drawn.
    path.line_to(to[0] as f32 + 0.01, to[1] as f32);
    let Some(path) = path.finish() else { return };
    let mut paint = Paint::default();
    paint.set_color(colour(rgb));
    let stroke = Stroke {
        width: thick_px as f32,
        line_cap: LineCap::Round,
        ..Stroke::default()
    };
    pixels.stroke_path(&path, &paint, &stroke, Transform::identity(), None);
}

fn colour([red, green, blue]: [u8; 3]) -> Color {
    Color::from_rgba8(red, green, blue, 255)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_near_limb_covers_a_far_one_on_the_paper() {
        let limb = |ends, colour| Limb {
            ends,
            thick_px: 10.0,
            colour,
        };
        let far = limb([[10.0, 50.0], [90.0, 50.0]], [200, 0, 0]);
        let near = limb([[50.0, 10.0], [50.0, 80.0]], [0, 0, 200]);
        let picture = figure([100, 120], 100.0, &[far, near]);
        let at = |x: usize, y: usize| &picture[4 * (100 * y + x)..][..3];
        assert_eq!(at(20, 50), [200, 0, 0]);
        assert_eq!(at(50, 50), [0, 0, 200]);
        assert_eq!(at(5, 5), PAPER);
        assert_eq!(at(5, 110), GROUND);
    }
}
