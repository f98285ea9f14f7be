//! A window of a frame as a JPEG small enough to be mailed.

use crate::crop::Crop;
use jpeg_encoder::{ColorType, Encoder, EncodingError};
use lessonwright_model::Picture;

/// Widest picture on the page, px: two pixels for each of a phone's 360 CSS pixels.
const WIDEST: usize = 720;

/// A cropped picture, not yet encoded.
pub struct Photo {
    pub width: usize,
    pub height: usize,
    /// Pixels of the picture per pixel of the frame, at most 1.
    pub scale: f64,
    rgb: Vec<u8>,
}

impl Photo {
    /// Cuts the window out and, where it is wider than the page needs, shrinks it by averaging
    /// areas.
    pub fn cut(picture: &Picture, crop: Crop) -> Photo {
        let width = crop.width.min(WIDEST);
        let scale = width as f64 / crop.width as f64;
        let height = ((crop.height as f64 * scale).round() as usize).max(1);
        let columns = spans(crop.left, crop.width, width);
        let rows = spans(crop.top, crop.height, height);
        let mut rgb = Vec::with_capacity(width * height * 3);
        for row in &rows {
            for column in &columns {
                rgb.extend(mean(picture, column, row));
            }
        }
        Photo {
            width,
            height,
            scale,
            rgb,
        }
    }

    /// Encodes at a quality in 1..=100.
    ///
    /// # Errors
    /// If a side is longer than JPEG allows.
    pub fn jpeg(&self, quality: u8) -> Result<Vec<u8>, EncodingError> {
        let side = |n: usize| u16::try_from(n).unwrap_or(0);
        let mut bytes = Vec::new();
        let mut encoder = Encoder::new(&mut bytes, quality);
        encoder.set_optimized_huffman_tables(true);
        encoder.encode(
            &self.rgb,
            side(self.width),
            side(self.height),
            ColorType::Rgb,
        )?;
        Ok(bytes)
    }
}

/// Source pixels, with weights that sum to 1, under one output pixel along one axis.
type Span = Vec<(usize, f32)>;

fn spans(start: usize, length: usize, count: usize) -> Vec<Span> {
    let step = length as f64 / count as f64;
    (0..count)
        .map(|i| {
            let (from, to) = (i as f64 * step, ((i + 1) as f64 * step).min(length as f64));
            (from as usize..to.ceil() as usize)
                .map(|n| {
                    let covered = to.min(n as f64 + 1.0) - from.max(n as f64);
                    (start + n, (covered / (to - from)) as f32)
                })
                .collect()
        })
        .collect()
}

fn mean(picture: &Picture, columns: &Span, rows: &Span) -> [u8; 3] {
    let mut sum = [0f32; 3];
    for &(y, row_weight) in rows {
        for &(x, column_weight) in columns {
            for (s, v) in sum.iter_mut().zip(picture.rgb_at(x, y)) {
                *s += row_weight * column_weight * f32::from(v);
            }
        }
    }
    sum.map(|s| (s + 0.5) as u8)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_window_is_cut_where_it_was_asked_for() {
        // Luma is 16 + x, so each column has its own grey.
        let picture = ramp(64, 40);
        let crop = Crop {
            left: 10,
            top: 4,
            width: 20,
            height: 30,
        };
        let photo = Photo::cut(&picture, crop);
        assert_eq!((photo.width, photo.height, photo.scale), (20, 30, 1.0));
        assert_eq!(photo.rgb[..3], picture.rgb_at(10, 4));
        assert_eq!(photo.rgb[photo.rgb.len() - 3..], picture.rgb_at(29, 33));
    }

    #[test]
    fn shrinking_keeps_the_mean_and_the_order() {
        let picture = ramp(1500, 8);
        let crop = Crop {
            left: 0,
            top: 0,
            width: 1500,
            height: 8,
        };
        let photo = Photo::cut(&picture, crop);
        assert_eq!(photo.width, WIDEST);
        let greys: Vec<u8> = photo.rgb.chunks(3).take(WIDEST).map(|p| p[0]).collect();
        assert!(greys.windows(2).all(|w| w[0] <= w[1]));
        let mean = |v: &[u8]| v.iter().map(|g| f64::from(*g)).sum::<f64>() / v.len() as f64;
        let source: Vec<u8> = (0..1500).map(|x| picture.rgb_at(x, 0)[0]).collect();
        // Half a grey level is what rounding each pixel can do.
        assert!((mean(&greys) - mean(&source)).abs() < 0.5);
    }

    #[test]
    fn the_jpeg_says_its_size_and_ends() {
        let crop = Crop {
            left: 0,
            top: 0,
            width: 64,
            height: 40,
        };
        let bytes = Photo::cut(&ramp(64, 40), crop).jpeg(85).unwrap();
        // ITU-T T.81: SOI first, EOI last, SOF0 holds height then width.
        assert_eq!(bytes[..2], [0xFF, 0xD8]);
        assert_eq!(bytes[bytes.len() - 2..], [0xFF, 0xD9]);
        let frame = bytes.windows(2).position(|w| w == [0xFF, 0xC0]).unwrap();
        assert_eq!(bytes[frame + 5..frame + 9], [0, 40, 0, 64]);
    }

    fn ramp(width: usize, height: usize) -> Picture {
        let chroma = width.div_ceil(2) * height.div_ceil(2);
        let grey = |i: usize| (16 + (i % width) * 219 / width) as u8;
        Picture {
            width,
            height,
            luma: (0..width * height).map(grey).collect(),
            cb: vec![128; chroma],
            cr: vec![128; chroma],
        }
    }
}
