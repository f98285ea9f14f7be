//! What several tests share: the loaded networks, stored pictures, pictures put together.

use crate::network::{ModelFiles, Networks};
use lessonwright_model::Picture;
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
    let data = std::env::var_os("XDG_DATA_HOME").map_or_else(
        || PathBuf::from(std::env::var_os("HOME").expect("HOME is set")).join(".local/share"),
        PathBuf::from,
    );
    ModelFiles::in_folder(&data.join("lessonwright"))
}

pub(crate) fn testdata(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../testdata/vision")
        .join(name)
}

/// Side and R'G'B' of a square PNG with or without palette.
pub(crate) fn rgb_from_png(path: &Path) -> (usize, Vec<u8>) {
    let file = std::fs::File::open(path).expect("stored picture");
    let mut decoder = png::Decoder::new(std::io::BufReader::new(file));
    decoder.set_transformations(png::Transformations::EXPAND);
    let mut reader = decoder.read_info().expect("a PNG file");
    let mut rgb = vec![0; reader.output_buffer_size().expect("a small picture")];
    let info = reader.next_frame(&mut rgb).expect("a PNG picture");
    assert_eq!(info.width, info.height, "square");
    assert_eq!(info.color_type, png::ColorType::Rgb);
    rgb.truncate(info.buffer_size());
    (info.width as usize, rgb)
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
