//! Why a clip cannot be analysed: what, in which clip, and what to do next.

use lessonwright_model::{CorrectionError, Hand, View};
use thiserror::Error;

/// A clip, or a pair of clips, that cannot be read as one swing.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum AnalysisError {
    /// Nothing to analyse.
    #[error("no clip was given; give one clip of a swing, or its two views")]
    NoClip,
    /// A correction by hand that can't be.
    #[error(transparent)]
    Correction(#[from] CorrectionError),
    /// More than two clips.
    #[error(
        "{0} clips were given; give one clip, or the face-on and the down-the-line view of one swing"
    )]
    TooManyClips(usize),
    /// Too little of the motion.
    #[error(
        "{clip}: only {frames} frames over {seconds:.2} s of motion; a swing needs at least {needed_frames} frames and {needed_s} s. Send the whole clip, from before the takeaway to the finish"
    )]
    TooFewFrames {
        /// The file's name.
        clip: String,
        /// Frames in the track.
        frames: usize,
        /// Their span, s of real motion.
        seconds: f64,
        /// Least number of frames.
        needed_frames: usize,
        /// Least span, s.
        needed_s: f64,
    },
    /// Frame times that do not increase.
    #[error("{clip}: frame {frame} is not later than the one before it; export the clip again")]
    DisorderedTimes {
        /// The file's name.
        clip: String,
        /// The frame's number.
        frame: usize,
    },
    /// No person, or only now and then.
    #[error(
        "{clip}: a golfer is seen in only {seen} of {frames} frames. Film the whole body, feet to hands at the top, in good light, and see that nobody stands in between"
    )]
    NobodySeen {
        /// The file's name.
        clip: String,
        /// Frames with a person.
        seen: usize,
        /// Frames in all.
        frames: usize,
    },
    /// The head is below the feet.
    #[error(
        "{clip}: the player is upside down in the picture; turn the clip by 180° and try again"
    )]
    UpsideDown {
        /// The file's name.
        clip: String,
    },
    /// The body lies on its side.
    #[error(
        "{clip}: the player lies on the side in the picture; turn the clip by 90° and try again"
    )]
    OnTheSide {
        /// The file's name.
        clip: String,
    },
    /// No swing in the motion.
    #[error(
        "{clip}: no full swing found: {why}. The clip must show one whole swing, from address to finish"
    )]
    NoSwing {
        /// The file's name.
        clip: String,
        /// What was looked for and not found.
        why: String,
    },
    /// Filmed from behind the player.
    #[error(
        "{clip}: the player's back is to the camera. Film face-on (facing the chest) or down the line (from behind the ball, toward the target)"
    )]
    SeenFromBehind {
        /// The file's name.
        clip: String,
    },
    /// The view could be either.
    #[error("{clip}: cannot tell whether this is face-on or down the line; say which view it is")]
    ViewUnclear {
        /// The file's name.
        clip: String,
    },
    /// The hand could be either.
    #[error("{clip}: cannot tell whether the player is right- or left-handed; say which")]
    HandUnclear {
        /// The file's name.
        clip: String,
    },
    /// Two clips of one view.
    #[error(
        "{first} and {second} are both {view}: two clips of the same view can't be combined. Analyse them one by one, or say which view each one is"
    )]
    SameViewTwice {
        /// First file's name.
        first: String,
        /// Second file's name.
        second: String,
        /// Their view.
        view: View,
    },
    /// A right-hander and a left-hander.
    #[error(
        "{first} shows a {first_hand} swing and {second} a {second_hand} one: they can't be two views of one swing. Check that both clips are of the same player and that neither is mirrored, or say the hand"
    )]
    HandsDiffer {
        /// First file's name.
        first: String,
        /// Its hand.
        first_hand: Hand,
        /// Second file's name.
        second: String,
        /// Its hand.
        second_hand: Hand,
    },
}
