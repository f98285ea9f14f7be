//! Landmarks and clubs kept between runs, so that stopped work resumes and a changed player fact or a correction
//! by hand costs nothing. A file is named by what went in: the clip's bytes, the options and our
//! version. What the clip is, is kept with them: nothing of it has to be asked for again.

use anyhow::{Context, Result, ensure};
use lessonwright_media::Clip;
use lessonwright_model::{Brief, ClubTrack, LandmarkTrack, SwingWindow};
use lessonwright_store::LANDMARKS_FOLDER;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};

/// Raised when the same clip would give other landmarks.
const LANDMARKS_VERSION: u32 = 2;

/// Raised when the same landmarks would give another club.
const CLUB_VERSION: u32 = 4;

/// Read at a time, so that a long clip is never in memory whole.
const BLOCK_BYTES: usize = 1 << 16;

/// What was seen in one clip's swing.
#[derive(Serialize, Deserialize)]
pub struct Seen {
    /// The clip, without its path and name: they may name a player, and files here outlive the roster.
    pub clip: Clip,
    /// How many swings the clip holds.
    pub swings: usize,
    /// Where in the clip the one looked at is.
    pub window: SwingWindow,
    /// The golfer through it.
    pub track: LandmarkTrack,
    /// The club through it; kept in a file of its own.
    #[serde(skip)]
    pub club: ClubTrack,
}

/// The folder of kept landmarks.
pub struct Kept {
    folder: PathBuf,
}

impl Kept {
    pub fn in_folder(studio: &Path) -> Kept {
        Kept {
            folder: studio.join(LANDMARKS_FOLDER),
        }
    }

    /// The name for one clip, by the SHA-256 of its bytes, seen with these options.
    pub fn key(&self, sha256: &str, rate_hz: Option<f64>, swing: Option<usize>) -> PathBuf {
        let what = format!("{sha256} {LANDMARKS_VERSION} {rate_hz:?} {swing:?}");
        let name = hex(&Sha256::digest(what)[..16]);
        self.folder.join(name).with_extension("json")
    }

    /// The name for the club in a clip whose landmarks have the name `landmarks`.
    pub fn club_key(&self, landmarks: &Path) -> PathBuf {
        landmarks.with_extension(format!("club-{CLUB_VERSION}.json"))
    }

    /// Remove what was kept of one clip, seen in any of the ways that this brief says.
    pub fn forget(&self, sha256: &str, brief: &Brief) -> Result<()> {
        let said = brief.clips.iter().map(|clip| clip.capture_rate_hz);
        for rate_hz in said.chain([None]) {
            let key = self.key(sha256, rate_hz, brief.swing_number);
            for file in [self.club_key(&key), key] {
                match fs::remove_file(&file) {
                    Err(error) if error.kind() != std::io::ErrorKind::NotFound => {
                        return Err(error).with_context(|| format!("removing {}", file.display()));
                    }
                    _ => {}
                }
            }
        }
        Ok(())
    }

    /// What was kept; a damaged file counts as none.
    pub fn read<T: DeserializeOwned>(&self, key: &Path) -> Option<T> {
        serde_json::from_slice(&fs::read(key).ok()?).ok()
    }

    /// Keep it, so that a cut leaves either the whole file or none.
    pub fn write(&self, key: &Path, seen: &impl Serialize) -> Result<()> {
        let keeping = || format!("keeping landmarks in {}", self.folder.display());
        fs::create_dir_all(&self.folder).with_context(keeping)?;
        let part = key.with_extension(format!("{}.part", std::process::id()));
        fs::write(&part, serde_json::to_vec(seen)?).with_context(keeping)?;
        fs::rename(&part, key).with_context(keeping)
    }
}

/// SHA-256 of a file's bytes, 64 hexadecimal digits.
pub fn sha256_of(path: &Path) -> Result<String> {
    let reading = || format!("reading {}", path.display());
    let mut file = fs::File::open(path).with_context(reading)?;
    let plain = file.metadata().with_context(reading)?.is_file();
    ensure!(plain, "{} is not a plain file", path.display());
    let mut hash = Sha256::new();
    let mut block = vec![0; BLOCK_BYTES];
    loop {
        let read = file.read(&mut block).with_context(reading)?;
        if read == 0 {
            return Ok(hex(&hash.finalize()));
        }
        hash.update(&block[..read]);
    }
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|b| format!("{b:02x}")).collect()
}
