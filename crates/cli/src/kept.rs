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
const LANDMARKS_VERSION: u32 = 5;

/// Raised when the same landmarks would give another club.
const CLUB_VERSION: u32 = 5;

/// Read at a time, so that a long clip is never in memory whole.
const BLOCK_BYTES: usize = 1 << 16;

/// What was seen in one clip's swing.
#[derive(Clone, Serialize, Deserialize)]
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

    /// The name for the club in a clip whose landmarks have the name `landmarks`; where the clip's capture rate was
    /// corrected afterwards, by that clock.
    pub fn club_key(&self, landmarks: &Path, corrected_hz: Option<f64>) -> PathBuf {
        let clock = corrected_hz.map_or(String::new(), |rate_hz| format!("-at-{rate_hz}"));
        landmarks.with_extension(format!("club-{CLUB_VERSION}{clock}.json"))
    }

    /// Remove what was kept of one clip, seen in any of the ways that this brief says.
    pub fn forget(&self, sha256: &str, brief: &Brief) -> Result<()> {
        let said = brief.clips.iter().map(|clip| clip.capture_rate_hz);
        for rate_hz in said.chain([None]) {
            let key = self.key(sha256, rate_hz, brief.swing_number);
            for file in self.files_of(&key)? {
                fs::remove_file(&file).with_context(|| format!("removing {}", file.display()))?;
            }
        }
        Ok(())
    }

    /// Landmarks and clubs of one name, as they are there.
    fn files_of(&self, landmarks: &Path) -> Result<Vec<PathBuf>> {
        let listing = || format!("looking through {}", self.folder.display());
        let entries = match fs::read_dir(&self.folder) {
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
            entries => entries.with_context(listing)?,
        };
        let mut files = Vec::new();
        for entry in entries {
            let path = entry.with_context(listing)?.path();
            // The name up to its first point is the clip's.
            let name = path
                .file_name()
                .map(|name| name.to_string_lossy().into_owned());
            let stem = landmarks.file_stem().map(|stem| stem.to_string_lossy());
            if name
                .zip(stem)
                .is_some_and(|(name, stem)| name.split('.').next() == Some(&stem))
            {
                files.push(path);
            }
        }
        Ok(files)
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
        let written = fs::write(&part, serde_json::to_vec(seen)?);
        written
            .and_then(|()| fs::rename(&part, key))
            .inspect_err(|_| drop(fs::remove_file(&part)))
            .with_context(keeping)
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clip_that_is_forgotten_leaves_no_club_behind_by_any_clock() {
        let studio = tempfile::TempDir::new().unwrap();
        let kept = Kept::in_folder(studio.path());
        let [gone, stays] = ["ab", "cd"].map(|sha256| kept.key(sha256, None, None));
        for landmarks in [&gone, &stays] {
            for clock in [None, Some(120.0)] {
                kept.write(&kept.club_key(landmarks, clock), &ClubTrack::default())
                    .unwrap();
            }
            kept.write(landmarks, &1).unwrap();
        }
        let brief = Brief {
            clips: vec![Default::default()],
            ..Brief::default()
        };
        kept.forget("ab", &brief).unwrap();
        assert_eq!(kept.files_of(&gone).unwrap(), Vec::<PathBuf>::new());
        assert_eq!(kept.files_of(&stays).unwrap().len(), 3);
    }

    #[test]
    fn a_damaged_club_counts_as_none() {
        let studio = tempfile::TempDir::new().unwrap();
        let kept = Kept::in_folder(studio.path());
        let key = kept.club_key(&kept.key("ab", None, None), None);
        kept.write(&key, &ClubTrack::default()).unwrap();
        let whole = fs::read(&key).unwrap();
        assert_eq!(kept.read(&key), Some(ClubTrack::default()));
        fs::write(&key, &whole[..whole.len() - 2]).unwrap();
        assert_eq!(kept.read::<ClubTrack>(&key), None);
    }
}
