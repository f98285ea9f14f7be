//! One decoded picture, as the decoder gives it and the networks and the report read it.

/// An upright picture in Y'CbCr 4:2:0, 8 bits, limited range, ITU-R BT.709 matrix.
///
/// Planes are row-major without padding. The chroma planes have `width.div_ceil(2)` columns and
/// `height.div_ceil(2)` rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// Width, px.
    pub width: usize,
    /// Height, px.
    pub height: usize,
    /// Luma, `width * height`.
    pub luma: Vec<u8>,
    /// Blue difference.
    pub cb: Vec<u8>,
    /// Red difference.
    pub cr: Vec<u8>,
}

impl Picture {
    /// Columns of a chroma plane.
    pub fn chroma_width(&self) -> usize {
        self.width.div_ceil(2)
    }

    /// Colour of one pixel as R'G'B' in 0..=255 (ITU-R BT.709-6, items 3.2–3.5, inverted).
    pub fn rgb_at(&self, x: usize, y: usize) -> [u8; 3] {
        let c = (y / 2) * self.chroma_width() + x / 2;
        rgb_from_ycbcr(self.luma[y * self.width + x], self.cb[c], self.cr[c])
    }

    /// The whole picture as R'G'B', row-major, 3 bytes a pixel.
    pub fn to_rgb(&self) -> Vec<u8> {
        let mut rgb = Vec::with_capacity(self.width * self.height * 3);
        for y in 0..self.height {
            for x in 0..self.width {
                rgb.extend(self.rgb_at(x, y));
            }
        }
        rgb
    }
}

/// Limited-range BT.709 Y'CbCr to R'G'B' in 0..=255, clipped.
pub fn rgb_from_ycbcr(luma: u8, cb: u8, cr: u8) -> [u8; 3] {
    let y = 1.164_383 * (f32::from(luma) - 16.0);
    let b = f32::from(cb) - 128.0;
    let r = f32::from(cr) - 128.0;
    let clip = |v: f32| (v + 0.5).clamp(0.0, 255.0) as u8;
    [
        clip(y + 1.792_741 * r),
        clip(y - 0.213_249 * b - 0.532_909 * r),
        clip(y + 2.112_402 * b),
    ]
}
