//! Whether the pictures given fit together.

use crate::ReportError;
use crate::content::KeyPicture;

pub(crate) fn check_pictures(pictures: &[KeyPicture]) -> Result<(), ReportError> {
    for (i, picture) in pictures.iter().enumerate() {
        let (view, moment) = (picture.view, picture.moment);
        let (width, height) = (picture.picture.width, picture.picture.height);
        if !is_whole(picture) {
            return Err(ReportError::PictureBroken { view, moment });
        }
        let same_view = || pictures[..i].iter().filter(|p| p.view == view);
        if same_view().any(|p| p.moment == moment) {
            return Err(ReportError::PictureTwice { view, moment });
        }
        if let Some(first) = same_view().next()
            && (first.picture.width, first.picture.height) != (width, height)
        {
            return Err(ReportError::PictureSize {
                view,
                moment,
                found_width_px: width,
                found_height_px: height,
                first_width_px: first.picture.width,
                first_height_px: first.picture.height,
            });
        }
    }
    Ok(())
}

fn is_whole(picture: &KeyPicture) -> bool {
    let p = &picture.picture;
    let chroma = p.width.div_ceil(2) * p.height.div_ceil(2);
    p.width > 0
        && p.height > 0
        && p.luma.len() == p.width * p.height
        && p.cb.len() == chroma
        && p.cr.len() == chroma
}
