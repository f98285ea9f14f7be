//! The pictures of drills: the project's, drawn by the stage (`cargo xtask render-drills`), and the professional's own.

use super::STANDARD;
use lessonwright_model::DrillFigure;
use std::borrow::Cow;
use std::collections::BTreeMap;

/// Largest picture that is taken, bytes: a lesson carries it to a phone.
const LARGEST: usize = 3 << 20;

/// Pictures in use, by the keys of drills.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures(BTreeMap<String, DrillFigure>);

/// Why a picture can't be used.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FigureError {
    /// It is another kind of file.
    #[error("this is no {0}: save the picture as one")]
    Kind(&'static str),
    /// It is too large.
    #[error("the picture has {0} bytes, more than {LARGEST}: make it smaller")]
    Size(usize),
}

impl Figures {
    /// The project's pictures: one for each of its drills.
    ///
    /// # Panics
    /// Never with the embedded pictures, which a test reads.
    pub fn standard() -> Figures {
        let figures = STANDARD.iter().map(|drill| {
            let figure = figure(drill.stills.into(), Some(drill.moving.into()));
            let figure = figure.unwrap_or_else(|error| panic!("{}: {error}", drill.key));
            (drill.key.to_owned(), figure)
        });
        Figures(figures.collect())
    }

    /// With the pictures of the professional's own page of a drill in place of those there were: stills as JPEG, a
    /// moving picture as WebP. An own page without stills is shown without.
    ///
    /// # Errors
    /// When a picture is of another kind, or too large.
    pub fn with_own(
        mut self,
        key: &str,
        stills: Option<Vec<u8>>,
        moving: Option<Vec<u8>>,
    ) -> Result<Figures, FigureError> {
        match stills {
            Some(stills) => {
                let own = figure(stills.into(), moving.map(Cow::from))?;
                self.0.insert(key.to_owned(), own)
            }
            None => self.0.remove(key),
        };
        Ok(self)
    }

    /// A drill's pictures.
    pub fn of(&self, drill: &str) -> Option<&DrillFigure> {
        self.0.get(drill)
    }
}

fn figure(
    stills: Cow<'static, [u8]>,
    moving: Option<Cow<'static, [u8]>>,
) -> Result<DrillFigure, FigureError> {
    for picture in std::iter::once(&stills).chain(&moving) {
        if picture.len() > LARGEST {
            return Err(FigureError::Size(picture.len()));
        }
    }
    let is = |bytes: &[u8], wanted| imagesize::image_type(bytes).is_ok_and(|is| is == wanted);
    if !is(&stills, imagesize::ImageType::Jpeg) {
        return Err(FigureError::Kind("JPEG"));
    }
    if moving
        .as_deref()
        .is_some_and(|m| !is(m, imagesize::ImageType::Webp))
    {
        return Err(FigureError::Kind("WebP"));
    }
    let size = imagesize::blob_size(&stills).map_err(|_| FigureError::Kind("JPEG"))?;
    Ok(DrillFigure {
        stills,
        size_px: [size.width, size.height],
        moving,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_drill_has_three_stills_and_moves() {
        let figures = Figures::standard();
        for drill in STANDARD {
            let figure = figures.of(drill.key).unwrap();
            assert!(figure.is_strip(), "{}: {:?}", drill.key, figure.size_px);
            assert!(figure.moving.is_some(), "{}", drill.key);
            let bytes = figure.stills.len() + figure.moving.as_ref().unwrap().len();
            assert!(bytes < 150_000, "{} is {bytes} bytes", drill.key);
        }
    }

    #[test]
    fn own_pictures_replace_and_bad_ones_say_what_is_wrong() {
        let key = "toes_up";
        let ours = Figures::standard().of(key).unwrap().clone();
        let (stills, moving) = (ours.stills.into_owned(), ours.moving.unwrap().into_owned());
        let with = |stills, moving| Figures::standard().with_own(key, stills, moving);
        let other = Figures::standard()
            .of("hum_to_the_top")
            .unwrap()
            .stills
            .clone()
            .into_owned();
        let own = with(Some(other.clone()), None).unwrap();
        assert_eq!(own.of(key).unwrap().stills, other);
        assert_eq!(own.of(key).unwrap().moving, None);
        assert_eq!(with(None, None).unwrap().of(key), None);
        let error = |stills: &[u8], moving: &[u8]| {
            with(Some(stills.into()), Some(moving.into()))
                .unwrap_err()
                .to_string()
        };
        assert!(error(&moving, &moving).contains("JPEG"));
        assert!(error(&stills, &stills).contains("WebP"));
        assert!(error(b"\xff\xd8\xff", &moving).contains("JPEG"));
        assert!(error(&vec![0; LARGEST + 1], &moving).contains("smaller"));
    }
}
