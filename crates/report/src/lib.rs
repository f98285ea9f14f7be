//! A lesson as a page: values in, bytes out; and the same lesson as plain words and drawings for paper.
//!
//! [`lesson_page`] turns a [`LessonContent`] into one HTML file that needs nothing else: style,
//! pictures and drawings are inside, and there are no scripts. The same content gives the same
//! bytes. Wording is in `templates/`, `headings.rs` and `page/words.rs`; the other modules compute numbers and
//! geometry.
//!
//! [`Chart`], [`Verdict`], [`Amount`] and their like are public so that the studio draws a measure in the same
//! way as the page that the player gets.

mod amount;
mod chain;
mod chart;
mod content;
mod crop;
mod figure;
mod film_plan;
mod film_words;
mod frame;
mod headings;
mod letter;
mod marks;
mod overlay;
mod page;
mod photo;
mod pictures;
mod plain;
mod practice;
mod send;
mod sheet;
mod trend;
mod verdict;
mod when;

pub use amount::{Amount, Direction, Spread, Units};
pub use chain::{ChainPicture, FlightPath, StepBox};
pub use chart::{Chart, Tick};
pub use content::{KeyPicture, LessonContent, MovingPicture, Pose, Reference, reference_for};
pub use crop::Crop;
pub use figure::{FIGURE_STYLE, FigurePart};
pub use film_plan::FilmPlan;
pub use film_words::{
    FilmWords, film_hand, film_lines, film_stands_long, film_title, film_words, moment_title,
};
pub use frame::frame_jpeg;
pub use letter::{
    How, LetterChange, LetterContent, LetterPicture, LetterSheet, LetterVerdict, NextStep,
    Practised, letter_page, letter_sheet,
};
pub use marks::{Mark, Shape, marks};
pub use overlay::{Overlay, Stroke, overlay};
pub use page::lesson_page;
pub use practice::{CardFor, PLAN_STYLE, StationPlan, calendar, plan_part, practice_card};
pub use send::{CLUBS, FLIGHTS, SendFor, send_page};
pub use sheet::{
    KeyLine, LessonSheet, List, Part, SheetDrill, SheetGoal, SheetPicture, SheetStation,
    lesson_sheet,
};
pub use trend::{TrendContent, TrendMark, TrendPicture, TrendPoint};
pub use verdict::Verdict;
pub use when::{Title, When};

use lessonwright_model::{MomentName, View};

/// Why a page could not be made.
#[derive(Debug, thiserror::Error)]
pub enum ReportError {
    /// The pictures of one view have different sizes, so they can't be cropped alike.
    #[error(
        "the {view} picture at {moment} is {found_width_px}×{found_height_px} px but the first of \
         that view is {first_width_px}×{first_height_px} px: give frames of one clip, undecimated",
        moment = moment.plain()
    )]
    PictureSize {
        /// The view.
        view: View,
        /// The moment of the picture that differs.
        moment: MomentName,
        /// Its width, px.
        found_width_px: usize,
        /// Its height, px.
        found_height_px: usize,
        /// The first picture's width, px.
        first_width_px: usize,
        /// The first picture's height, px.
        first_height_px: usize,
    },
    /// A picture without pixels, or with a plane that does not match its size.
    #[error(
        "the {view} picture at {moment} is empty or its planes do not match its size: decode it \
         again",
        moment = moment.plain()
    )]
    PictureBroken {
        /// The view.
        view: View,
        /// The moment.
        moment: MomentName,
    },
    /// Two pictures for one view and moment.
    #[error("there are two {view} pictures at {moment}: give one", moment = moment.plain())]
    PictureTwice {
        /// The view.
        view: View,
        /// The moment.
        moment: MomentName,
    },
    /// A picture too large for the JPEG format (65 535 px a side), or the encoder failed.
    #[error("could not write a picture as JPEG")]
    Jpeg(#[from] jpeg_encoder::EncodingError),
    /// The page would be larger than a mail server lets through.
    #[error(
        "the page is {bytes} bytes even with the pictures at lowest quality, more than the {limit} \
         allowed: give fewer pictures"
    )]
    TooLarge {
        /// Size of the page, bytes.
        bytes: usize,
        /// Largest size allowed, bytes.
        limit: usize,
    },
    /// The template could not be filled in.
    #[error("could not lay out the page")]
    Template(#[from] askama::Error),
}
