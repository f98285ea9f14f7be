//! What a player sends back: one file with clips and answers, made by the page "film and send". A ZIP whose parts are
//! stored as they are – nothing in it unpacks to more than it is –, first `bundle.json`, then the clips. It comes from
//! outside, so that nothing in it is believed: sizes, names and sums are checked before a byte is kept.

use lessonwright_model::{Pain, View};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::io::{self, Read, Seek, Write};
use zip::{CompressionMethod, ZipArchive};

/// The first part.
pub const MANIFEST: &str = "bundle.json";

/// Of this form.
const VERSION: u32 = 1;
const KIND: &str = "lessonwright-bundle";

/// Most bytes of the manifest, of a clip, and of free words.
const MOST_MANIFEST_BYTES: u64 = 64 << 10;
/// A minute of 4K at 60 frames a second is some 400 MB.
pub const MOST_CLIP_BYTES: u64 = 1 << 30;
const MOST_LETTERS: usize = 2000;

/// One view each.
const MOST_CLIPS: usize = 2;

/// Endings of films that phones write.
const ENDINGS: [&str; 5] = ["mp4", "mov", "m4v", "webm", "mkv"];

/// What is said of a bundle, in it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Manifest {
    kind: String,
    version: u32,
    /// The player's code.
    pub player: String,
    /// The lesson it answers, by its number in the studio it came from.
    pub lesson: Option<i64>,
    /// The player's own day, YYYY-MM-DD.
    pub filmed_on: String,
    /// The clips.
    pub clips: Vec<BundledClip>,
    /// What the player answered.
    pub answers: Answers,
}

/// A clip in a bundle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BundledClip {
    /// Its part in the bundle: letters, digits, `-`, one dot.
    pub name: String,
    /// Where the phone stood, as the player says.
    pub view: View,
    bytes: u64,
    sha256: String,
}

/// What the player answered; empty where nothing.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Answers {
    /// Where it hurts; none if nothing does.
    pub pains: Vec<Pain>,
    /// Whether the player was asked and answered.
    pub pain_answered: bool,
    /// The usual flight now ("slice").
    pub flight: String,
    /// Kind of club ("mid_iron").
    pub club: String,
    /// What the swing felt like.
    pub feel: String,
    /// Anything else.
    pub words: String,
}

/// Why a bundle is not taken in. Each is a sentence for the professional.
#[derive(Debug, thiserror::Error)]
pub enum BundleError {
    /// Not such a file, or cut short.
    #[error("this is no whole bundle ({0}): ask the player to send it again")]
    NotWhole(String),
    /// From a later page.
    #[error("this bundle was made for a later version of lessonwright: install that version")]
    TooNew,
    /// A clip that is not as it was when it was packed.
    #[error("the clip {0} was damaged on its way: ask the player to send it again")]
    Damaged(String),
    /// Beyond a limit.
    #[error("{0}")]
    TooMuch(String),
    /// A part could not be written.
    #[error("could not keep a clip of the bundle")]
    Write(#[source] io::Error),
}

/// A bundle whose manifest is read and whose parts are as the manifest says; the clips themselves are checked when they
/// are written out.
pub struct Bundle<R> {
    archive: ZipArchive<R>,
    /// What is said in it.
    pub manifest: Manifest,
}

impl<R: Read + Seek> Bundle<R> {
    /// Reads what is said in a bundle, and what parts it has.
    ///
    /// # Errors
    /// If it is no bundle, from a later version, or beyond a limit.
    pub fn open(file: R) -> Result<Bundle<R>, BundleError> {
        let mut archive = ZipArchive::new(file).map_err(not_whole)?;
        if archive.len() > 1 + MOST_CLIPS {
            return Err(BundleError::TooMuch(format!(
                "a bundle has at most {MOST_CLIPS} clips"
            )));
        }
        for place in 0..archive.len() {
            let part = archive.by_index_raw(place).map_err(not_whole)?;
            let as_it_is = part.compression() == CompressionMethod::Stored
                && part.size() == part.compressed_size();
            if !as_it_is || part.encrypted() {
                return Err(not_whole("a part of it is packed"));
            }
        }
        let part = archive.by_name(MANIFEST).map_err(not_whole)?;
        if part.size() > MOST_MANIFEST_BYTES {
            return Err(BundleError::TooMuch("the bundle's list is too long".into()));
        }
        let text = io::read_to_string(part).map_err(not_whole)?;
        let manifest = manifest(&text)?;
        if archive.len() != 1 + manifest.clips.len() {
            return Err(not_whole("it has other parts than it says"));
        }
        Ok(Bundle { archive, manifest })
    }

    /// Writes a clip out, and holds it against what was said of it.
    ///
    /// # Errors
    /// If it is damaged or can't be written; what was written so far is not to be used then.
    pub fn write_clip(
        &mut self,
        clip: &BundledClip,
        mut to: impl Write,
    ) -> Result<(), BundleError> {
        let part = self.archive.by_name(&clip.name).map_err(not_whole)?;
        let damaged = || BundleError::Damaged(clip.name.clone());
        if part.size() != clip.bytes {
            return Err(damaged());
        }
        let mut part = part.take(clip.bytes);
        let mut hash = Sha256::new();
        let mut chunk = vec![0; 1 << 20];
        loop {
            // A wrong check sum of the ZIP is an error of reading.
            let read = part.read(&mut chunk).map_err(|_| damaged())?;
            if read == 0 {
                break;
            }
            hash.update(&chunk[..read]);
            to.write_all(&chunk[..read]).map_err(BundleError::Write)?;
        }
        to.flush().map_err(BundleError::Write)?;
        let found: String = hash
            .finalize()
            .iter()
            .map(|byte| format!("{byte:02x}"))
            .collect();
        if found == clip.sha256 {
            Ok(())
        } else {
            Err(damaged())
        }
    }
}

fn manifest(text: &str) -> Result<Manifest, BundleError> {
    #[derive(Deserialize)]
    struct Kind {
        kind: String,
        version: u32,
    }
    // Before the rest, which may have another form in a later version.
    let kind: Kind = serde_json::from_str(text).map_err(not_whole)?;
    if kind.kind != KIND {
        return Err(not_whole("it is of another kind"));
    }
    if kind.version > VERSION {
        return Err(BundleError::TooNew);
    }
    let manifest: Manifest = serde_json::from_str(text).map_err(not_whole)?;
    manifest.check()?;
    Ok(manifest)
}

impl Manifest {
    fn check(&self) -> Result<(), BundleError> {
        let (clips, answers) = (&self.clips, &self.answers);
        if clips.is_empty() || clips.len() > MOST_CLIPS {
            return Err(not_whole("it has no clip, or more than two"));
        }
        if clips.len() == 2 && (clips[0].view == clips[1].view || clips[0].name == clips[1].name) {
            return Err(not_whole("both clips are of one view"));
        }
        for clip in clips {
            if !is_name(&clip.name) {
                return Err(not_whole("a clip has no plain name"));
            }
            if clip.bytes > MOST_CLIP_BYTES {
                return Err(BundleError::TooMuch(format!(
                    "the clip {} has {} MB, more than the {} MB that are taken in: ask for a shorter one",
                    clip.name,
                    clip.bytes >> 20,
                    MOST_CLIP_BYTES >> 20
                )));
            }
        }
        if [&self.player, &self.filmed_on]
            .iter()
            .any(|text| is_long(text))
        {
            return Err(too_long());
        }
        answers.check()
    }
}

impl Answers {
    /// Looks whether the answers are within their limits.
    ///
    /// # Errors
    /// If one is too long or a pain is beyond the scale.
    pub fn check(&self) -> Result<(), BundleError> {
        let texts = [&self.flight, &self.club, &self.feel, &self.words];
        let many = self.pains.len() > lessonwright_model::BodyArea::ALL.len();
        if many || texts.iter().any(|text| is_long(text)) {
            return Err(too_long());
        }
        let strong = self
            .pains
            .iter()
            .any(|pain| !(1..=lessonwright_model::STRONGEST_PAIN).contains(&pain.strength));
        if strong {
            return Err(not_whole("a pain is not from 1 to 10"));
        }
        Ok(())
    }

    /// What was answered, read from what is on record of a bundle or of a form; none if it is not there.
    pub fn on_record(json: &str) -> Option<Answers> {
        #[derive(Deserialize)]
        struct OnRecord {
            answers: Answers,
        }
        serde_json::from_str::<OnRecord>(json)
            .ok()
            .map(|on| on.answers)
    }
}

fn is_long(text: &str) -> bool {
    text.chars().count() > MOST_LETTERS
}

fn too_long() -> BundleError {
    BundleError::TooMuch("an answer is too long".into())
}

/// "front.mp4".
fn is_name(name: &str) -> bool {
    name.split_once('.').is_some_and(|(stem, ending)| {
        let plain = stem.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-');
        (1..=40).contains(&stem.len()) && plain && ENDINGS.contains(&ending)
    })
}

fn not_whole(why: impl std::fmt::Display) -> BundleError {
    BundleError::NotWhole(why.to_string())
}
