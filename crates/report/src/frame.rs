//! A whole frame as a JPEG, as the swing bench steps through it.
//!
//! JPEG files hold full-range Y'CbCr of ITU-R BT.601 (ITU-T T.871); pictures are limited-range BT.709.
//! Both are linear in R'G'B', so one matrix takes the planes over without a detour through R'G'B'.

use crate::ReportError;
use jpeg_encoder::{Encoder, ImageBuffer, JpegColorType};
use lessonwright_model::Picture;

/// Encodes a picture at a quality in 1..=100.
///
/// # Errors
/// If a side is longer than JPEG allows.
pub fn frame_jpeg(picture: &Picture, quality: u8) -> Result<Vec<u8>, ReportError> {
    let mut bytes = Vec::with_capacity(picture.width * picture.height / 6);
    Encoder::new(&mut bytes, quality).encode_image(Planes(picture))?;
    Ok(bytes)
}

struct Planes<'a>(&'a Picture);

impl ImageBuffer for Planes<'_> {
    fn get_jpeg_color_type(&self) -> JpegColorType {
        JpegColorType::Ycbcr
    }

    fn width(&self) -> u16 {
        u16::try_from(self.0.width).unwrap_or(0)
    }

    fn height(&self) -> u16 {
        u16::try_from(self.0.height).unwrap_or(0)
    }

    fn fill_buffers(&self, y: u16, buffers: &mut [Vec<u8>; 4]) {
        let picture = self.0;
        let y = usize::from(y);
        let luma = &picture.luma[y * picture.width..][..picture.width];
        let chroma = (y / 2) * picture.chroma_width();
        for (x, &grey) in luma.iter().enumerate() {
            let at = chroma + x / 2;
            let ycc = jpeg_ycc(grey, picture.cb[at], picture.cr[at]);
            for (buffer, value) in buffers.iter_mut().zip(ycc) {
                buffer.push(value);
            }
        }
    }
}

/// With y = (Y − 16) / 219, b = (Cb − 128) / 224 and r = (Cr − 128) / 224 of BT.709, BT.601 has
/// y + 0.101579 b + 0.196076 r, 0.989854 b − 0.110653 r and 0.983398 r − 0.072453 b: from the luma weights of
/// both (0.2126, 0.7152, 0.0722 and 0.299, 0.587, 0.114). In 1/65536, times 255 over each range.
fn jpeg_ycc(luma: u8, cb: u8, cr: u8) -> [u8; 3] {
    const Y: i32 = 76_309;
    const Y_FROM: [i32; 2] = [7_578, 14_628];
    const CB_FROM: [i32; 2] = [73_848, -8_255];
    const CR_FROM: [i32; 2] = [-5_405, 73_366];
    let (y, b, r) = (
        i32::from(luma) - 16,
        i32::from(cb) - 128,
        i32::from(cr) - 128,
    );
    let to = |sum: i32, zero: i32| (((sum + 32_768) >> 16) + zero).clamp(0, 255) as u8;
    [
        to(Y * y + Y_FROM[0] * b + Y_FROM[1] * r, 0),
        to(CB_FROM[0] * b + CB_FROM[1] * r, 128),
        to(CR_FROM[0] * b + CR_FROM[1] * r, 128),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use lessonwright_model::picture::rgb_from_ycbcr;

    #[test]
    fn a_jpeg_shows_the_colours_of_the_frame() {
        // ITU-T T.871, 7: R = Y + 1.402 (Cr − 128), and so on.
        let shown = |[y, cb, cr]: [u8; 3]| {
            let (y, b, r) = (f64::from(y), f64::from(cb) - 128.0, f64::from(cr) - 128.0);
            [
                y + 1.402 * r,
                y - 0.344_136 * b - 0.714_136 * r,
                y + 1.772 * b,
            ]
        };
        for luma in (16..=235).step_by(7) {
            for cb in (64..=192).step_by(8) {
                for cr in (64..=192).step_by(8) {
                    let wanted = rgb_from_ycbcr(luma, cb, cr);
                    let inside = wanted.iter().all(|&v| v > 0 && v < 255);
                    let got = shown(jpeg_ycc(luma, cb, cr));
                    for (want, got) in wanted.iter().zip(got) {
                        // Rounding of three numbers, weighted by up to 1.772, and of the wanted one.
                        let off = (f64::from(*want) - got).abs();
                        assert!(!inside || off < 2.0, "{luma} {cb} {cr}: {wanted:?} {got:?}");
                    }
                }
            }
        }
    }

    #[test]
    fn the_jpeg_says_its_size_and_ends() {
        let picture = Picture {
            width: 50,
            height: 30,
            luma: vec![90; 1500],
            cb: vec![128; 25 * 15],
            cr: vec![128; 25 * 15],
        };
        let bytes = frame_jpeg(&picture, 80).unwrap();
        // ITU-T T.81: SOI first, EOI last, SOF0 holds height then width.
        assert_eq!(bytes[..2], [0xFF, 0xD8]);
        assert_eq!(bytes[bytes.len() - 2..], [0xFF, 0xD9]);
        let frame = bytes.windows(2).position(|w| w == [0xFF, 0xC0]).unwrap();
        assert_eq!(bytes[frame + 5..frame + 9], [0, 30, 0, 50]);
    }
}
