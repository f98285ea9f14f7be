//! Lines of words as pictures, to be laid over film.

use crate::PrintError;
use crate::desk::set;
use typst_render::{RenderOptions, render};

/// Words to be set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caption {
    /// The upper line, in bold.
    pub title: String,
    /// The lower line; may be empty.
    pub text: String,
}

/// Words as a picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lettering {
    /// Width, px.
    pub width: usize,
    /// Height, px.
    pub height: usize,
    /// Row-major, 4 bytes a pixel, the colours multiplied by alpha.
    pub rgba: Vec<u8>,
}

/// Each caption on a ground of `width_px` by `height_px`. Text too long for it is cut at its edge.
///
/// # Errors
/// If the layout does not fit: a fault of this program.
pub fn lettering(
    captions: &[Caption],
    width_px: usize,
    height_px: usize,
) -> Result<Vec<Lettering>, PrintError> {
    if captions.is_empty() {
        return Ok(Vec::new());
    }
    let lines: Vec<[&str; 2]> = captions
        .iter()
        .map(|c| [c.title.as_str(), c.text.as_str()])
        .collect();
    let inputs = [
        ("captions", serde_json::to_string(&lines)?),
        ("width", width_px.to_string()),
        ("height", height_px.to_string()),
    ];
    let document = set("captions", include_str!("caption.typ"), &inputs)?;
    let options = RenderOptions {
        pixel_per_pt: 1.0.into(),
        render_bleed: false,
    };
    let pictures = document.pages().iter().map(|page| {
        let pixels = render(page, &options);
        Lettering {
            width: pixels.width() as usize,
            height: pixels.height() as usize,
            rgba: pixels.take(),
        }
    });
    Ok(pictures.collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn caption(title: &str, text: &str) -> Caption {
        Caption {
            title: title.into(),
            text: text.into(),
        }
    }

    #[test]
    fn each_caption_is_a_picture_of_its_own_with_its_words_in_it() {
        let captions = [
            caption("Top", "Hips 3 cm back"),
            caption("Top", ""),
            caption("#panic()", "*"),
        ];
        let pictures = lettering(&captions, 400, 80).unwrap();
        assert_eq!(pictures.len(), 3);
        for picture in &pictures {
            assert_eq!(
                (picture.width, picture.height, picture.rgba.len()),
                (400, 80, 400 * 80 * 4)
            );
            let light = picture.rgba.chunks(4).filter(|p| p[0] > 200).count();
            assert!(light > 40, "letters are light: {light}");
        }
        assert_ne!(pictures[0], pictures[1]);
        assert_eq!(lettering(&captions, 400, 80).unwrap(), pictures);
    }
}
