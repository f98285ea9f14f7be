//! Painting one picture of the film.

use crate::layout::{Layout, Panel};
use lessonwright_model::{Picture, PixelPoint, rgb_from_ycbcr};
use lessonwright_report::{Mark, Overlay, Shape, marks};
use tiny_skia::{
    Color, FillRule, LineCap, Paint, Path, PathBuilder, Pixmap, PixmapPaint, PixmapRef, Stroke,
    StrokeDash, Transform,
};

/// Words as a picture: row-major, 4 bytes a pixel, colours multiplied by alpha.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plate {
    /// Width, px.
    pub width: usize,
    /// Height, px.
    pub height: usize,
    /// The pixels.
    pub rgba: Vec<u8>,
}

/// One view of the film's picture.
pub struct Shot(Pixmap);

/// The film's picture, painted over from one to the next.
pub struct Canvas {
    layout: Layout,
    pixels: Pixmap,
}

/// A frame's window as large as its panel, with the lesson's lines.
pub fn panel(place: &Panel, height: usize, picture: &Picture, drawn: &Overlay) -> Shot {
    let mut pixels = photograph(place, height, picture);
    for mark in marks(drawn, place.width as f64) {
        draw(&mut pixels, &mark);
    }
    Shot(pixels)
}

impl Canvas {
    /// An empty one.
    ///
    /// # Panics
    /// If the layout has no views.
    pub fn new(layout: Layout) -> Canvas {
        let mut pixels = Pixmap::new(layout.width as u32, layout.height as u32)
            .expect("a layout with a view has a size");
        pixels.fill(Color::from_rgba8(0x23, 0x1f, 0x1a, 255));
        Canvas { layout, pixels }
    }

    /// Shows a view.
    pub fn show(&mut self, view: usize, shot: &Shot) {
        let left = self.layout.panels[view].left as i32;
        self.put(left, 0, shot.0.as_ref());
    }

    /// Shows words.
    pub fn say(&mut self, plate: &Plate) {
        let top = self.layout.panel_height() as i32;
        let (width, height) = (plate.width as u32, plate.height as u32);
        if let Some(words) = PixmapRef::from_bytes(&plate.rgba, width, height) {
            self.put(0, top, words);
        }
    }

    /// Row-major, 4 bytes a pixel (red, green, blue, opaque).
    pub fn rgba(&self) -> &[u8] {
        self.pixels.data()
    }

    fn put(&mut self, left: i32, top: i32, pixels: PixmapRef<'_>) {
        let paint = PixmapPaint::default();
        self.pixels
            .draw_pixmap(left, top, pixels, &paint, Transform::identity(), None);
    }
}

/// The frame's window at the panel's size, each pixel between the four nearest of the frame.
fn photograph(place: &Panel, height: usize, picture: &Picture) -> Pixmap {
    let mut pixels = Pixmap::new(place.width as u32, height as u32).expect("a panel has a size");
    let columns: Vec<Between> = (0..place.width)
        .map(|x| {
            Between::of(
                place.crop.left,
                place.crop.width,
                x,
                place.width,
                picture.width,
            )
        })
        .collect();
    let shown = (place.crop.height as f64 * place.scale).round() as usize;
    let rows = pixels.data_mut().chunks_exact_mut(4 * place.width);
    for (y, row) in rows.enumerate().take(shown) {
        let line = Between::of(place.crop.top, place.crop.height, y, shown, picture.height);
        for (column, pixel) in columns.iter().zip(row.chunks_exact_mut(4)) {
            let luma = line.mix(column, &picture.luma, picture.width);
            let chroma = (line.nearest() / 2) * picture.chroma_width() + column.nearest() / 2;
            let [r, g, b] = rgb_from_ycbcr(luma, picture.cb[chroma], picture.cr[chroma]);
            pixel.copy_from_slice(&[r, g, b, 255]);
        }
    }
    pixels
}

/// Where a pixel of the panel lies between two of the frame, along one axis.
struct Between {
    first: usize,
    second: usize,
    /// How far it is on the way to the second, in 256ths.
    share: u32,
}

impl Between {
    fn of(start: usize, length: usize, at: usize, count: usize, limit: usize) -> Between {
        let place = (at as f64 + 0.5) * length as f64 / count as f64 - 0.5 + start as f64;
        let place = place.clamp(0.0, limit as f64 - 1.0);
        let first = place as usize;
        Between {
            first,
            second: (first + 1).min(limit - 1),
            share: ((place - first as f64) * 256.0) as u32,
        }
    }

    fn nearest(&self) -> usize {
        if self.share < 128 {
            self.first
        } else {
            self.second
        }
    }

    fn mix(&self, column: &Between, plane: &[u8], width: usize) -> u8 {
        let along = |row: usize| {
            let (a, b) = (
                plane[row * width + column.first],
                plane[row * width + column.second],
            );
            u32::from(a) * (256 - column.share) + u32::from(b) * column.share
        };
        let mixed = along(self.first) * (256 - self.share) + along(self.second) * self.share;
        (mixed >> 16) as u8
    }
}

fn draw(pixels: &mut Pixmap, mark: &Mark) {
    let Some(path) = path_of(mark.shape) else {
        return;
    };
    let [r, g, b, a] = mark.colour;
    let mut paint = Paint::default();
    paint.set_color_rgba8(r, g, b, a);
    match mark.width {
        None => pixels.fill_path(
            &path,
            &paint,
            FillRule::Winding,
            Transform::identity(),
            None,
        ),
        Some(width) => {
            let stroke = Stroke {
                width: width as f32,
                line_cap: LineCap::Round,
                dash: mark
                    .dash
                    .and_then(|[on, off]| StrokeDash::new(vec![on as f32, off as f32], 0.0)),
                ..Stroke::default()
            };
            pixels.stroke_path(&path, &paint, &stroke, Transform::identity(), None);
        }
    }
}

/// `None` for a shape without extent or with a place that is no number.
fn path_of(shape: Shape) -> Option<Path> {
    let at = |p: PixelPoint| (p.x as f32, p.y as f32);
    let mut builder = PathBuilder::new();
    match shape {
        Shape::Line(from, to) => {
            let (from, to) = (at(from), at(to));
            builder.move_to(from.0, from.1);
            builder.line_to(to.0, to.1);
        }
        Shape::Circle(centre, radius) => {
            let centre = at(centre);
            builder.push_circle(centre.0, centre.1, radius as f32);
        }
        Shape::Triangle(corners) => {
            let [a, b, c] = corners.map(at);
            builder.move_to(a.0, a.1);
            builder.line_to(b.0, b.1);
            builder.line_to(c.0, c.1);
            builder.close();
        }
    }
    builder.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_report::Crop;

    /// Luma rises to the right.
    fn ramp(width: usize, height: usize) -> Picture {
        let chroma = width.div_ceil(2) * height.div_ceil(2);
        Picture {
            width,
            height,
            luma: (0..width * height)
                .map(|i| (16 + (i % width) * 219 / width) as u8)
                .collect(),
            cb: vec![128; chroma],
            cr: vec![128; chroma],
        }
    }

    fn layout() -> Layout {
        let crop = Crop {
            left: 100,
            top: 20,
            width: 200,
            height: 300,
        };
        Layout::of(&[crop])
    }

    #[test]
    fn the_window_fills_its_panel_without_shift() {
        let layout = layout();
        let picture = ramp(400, 400);
        let shown = panel(
            &layout.panels[0],
            layout.panel_height(),
            &picture,
            &Overlay::default(),
        );
        for x in [0, 100, 240, 479] {
            let source = 100.0 + (x as f64 + 0.5) / layout.panels[0].scale - 0.5;
            let wanted = f64::from(picture.rgb_at(source.round() as usize, 50)[0]);
            let found = f64::from(shown.0.pixel(x, 300).unwrap().red());
            // A step of the ramp is half a grey level of luma.
            assert!((found - wanted).abs() <= 2.0, "{x}: {found} for {wanted}");
        }
    }

    #[test]
    fn a_line_is_painted_where_it_lies_and_nowhere_else() {
        let layout = layout();
        let picture = ramp(400, 400);
        let at = |x, y| PixelPoint { x, y };
        let drawn = Overlay {
            now: Some(lessonwright_report::Stroke {
                from: at(240.0, 100.0),
                to: at(240.0, 600.0),
            }),
            ..Overlay::default()
        };
        let plain = panel(
            &layout.panels[0],
            layout.panel_height(),
            &picture,
            &Overlay::default(),
        );
        let lined = panel(&layout.panels[0], layout.panel_height(), &picture, &drawn);
        let colour = lined.0.pixel(240, 300).unwrap();
        assert_eq!(
            (colour.red(), colour.green(), colour.blue()),
            (255, 207, 63)
        );
        assert_eq!(lined.0.pixel(260, 300), plain.0.pixel(260, 300));
        assert_eq!(lined.0.pixel(240, 700), plain.0.pixel(240, 700));
    }

    #[test]
    fn words_lie_under_the_views() {
        let layout = layout();
        let (width, height) = (layout.width, layout.plate_height);
        let mut canvas = Canvas::new(layout);
        let before = canvas.rgba().to_vec();
        canvas.say(&Plate {
            width,
            height,
            rgba: vec![255; width * height * 4],
        });
        let changed = canvas.rgba().iter().zip(&before).position(|(a, b)| a != b);
        assert_eq!(changed, Some(4 * width * 720));
    }
}
