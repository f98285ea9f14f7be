//! What several tests share: the loaded networks, stored pictures, pictures put together.

use crate::network::{ModelFiles, Networks};
use lessonwright_model::Picture;
use lessonwright_model::home::home_folder;
use std::path::{Path, PathBuf};

/// Both networks on one lane.
pub(crate) fn networks() -> Networks {
    networks_with_threads(1)
}

pub(crate) fn networks_with_threads(threads: usize) -> Networks {
    Networks::load(&model_files(), threads).unwrap_or_else(|error| panic!("{error}"))
}

/// The files in the set-up command's folder.
pub(crate) fn model_files() -> ModelFiles {
    let home = home_folder(|name| std::env::var_os(name)).expect("a home folder");
    ModelFiles::in_folder(&home)
}

pub(crate) fn testdata(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../testdata/vision")
        .join(name)
}

/// A small R'G'B' picture.
#[derive(Clone)]
pub(crate) struct Rgb {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) pixels: Vec<[u8; 3]>,
}

impl Rgb {
    /// A stored PNG with or without palette.
    pub(crate) fn stored(name: &str) -> Self {
        let file = std::fs::File::open(testdata(name)).expect("stored picture");
        let mut decoder = png::Decoder::new(std::io::BufReader::new(file));
        decoder.set_transformations(png::Transformations::EXPAND);
        let mut reader = decoder.read_info().expect("a PNG file");
        let mut bytes = vec![0; reader.output_buffer_size().expect("a small picture")];
        let info = reader.next_frame(&mut bytes).expect("a PNG picture");
        assert_eq!(info.color_type, png::ColorType::Rgb);
        Rgb {
            width: info.width as usize,
            height: info.height as usize,
            pixels: bytes[..info.buffer_size()].as_chunks::<3>().0.to_vec(),
        }
    }

    /// Columns `start..start + width`.
    pub(crate) fn columns(&self, start: usize, width: usize) -> Rgb {
        Rgb {
            width,
            height: self.height,
            pixels: self
                .pixels
                .chunks_exact(self.width)
                .flat_map(|line| line[start..start + width].iter().copied())
                .collect(),
        }
    }

    pub(crate) fn upside_down(mut self) -> Rgb {
        self.pixels.reverse();
        self
    }

    /// Puts this picture's top left corner at (`left`, `top`) of `picture`, which must hold it;
    /// both even, so that chroma samples fit.
    pub(crate) fn paste(&self, picture: &mut Picture, left: usize, top: usize) {
        for (i, &rgb) in self.pixels.iter().enumerate() {
            let (x, y) = (left + i % self.width, top + i / self.width);
            let [luma, cb, cr] = ycbcr_from_rgb(rgb);
            picture.luma[y * picture.width + x] = luma;
            // The last of a block's four pixels stands for all.
            let chroma = (y / 2) * picture.chroma_width() + x / 2;
            picture.cb[chroma] = cb;
            picture.cr[chroma] = cr;
        }
    }
}

/// ITU-R BT.709-6, items 3.2 to 3.4, limited range.
fn ycbcr_from_rgb(rgb: [u8; 3]) -> [u8; 3] {
    let [r, g, b] = rgb.map(|value| f32::from(value) / 255.0);
    let luma = 0.2126 * r + 0.7152 * g + 0.0722 * b;
    let cb = (b - luma) / 1.8556;
    let cr = (r - luma) / 1.5748;
    [16.0 + 219.0 * luma, 128.0 + 224.0 * cb, 128.0 + 224.0 * cr].map(|v| v.round() as u8)
}

/// A uniform picture.
pub(crate) fn plain_picture(width: usize, height: usize, luma: u8) -> Picture {
    let chroma = width.div_ceil(2) * height.div_ceil(2);
    Picture {
        width,
        height,
        luma: vec![luma; width * height],
        cb: vec![128; chroma],
        cr: vec![128; chroma],
    }
}
