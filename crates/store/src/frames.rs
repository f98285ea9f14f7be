//! Pictures of a swing's frames, made for looking and made again when they are gone. They lie beside the
//! swing's clips, so that they are erased with them, and all together are bounded.

use crate::error::StoreError;
use crate::rows::SwingId;
use crate::store::Store;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// In the folder of a swing's clips.
pub const FOLDER: &str = "frames";

impl Store {
    /// Where a swing's frames lie. It is made only where the swing's media are: what is erased
    /// does not come back.
    pub fn frames_folder(&self, swing: SwingId) -> PathBuf {
        self.media_folder(swing).join(FOLDER)
    }

    /// Removes the frames that were looked at longest ago until all together are at most `most_bytes`;
    /// those of `keep` stay.
    ///
    /// # Errors
    /// If a file can't be removed.
    pub fn trim_frames(&self, keep: SwingId, most_bytes: u64) -> Result<(), StoreError> {
        let kept = self.frames_folder(keep);
        let media = self.media_folder(keep);
        let all = media.parent().map(frame_files).unwrap_or_default();
        let mut bytes: u64 = all.iter().map(|file| file.bytes).sum();
        for file in all {
            if bytes <= most_bytes {
                break;
            }
            if file.path.starts_with(&kept) {
                continue;
            }
            bytes -= file.bytes;
            match fs::remove_file(&file.path) {
                Err(source) if source.kind() != io::ErrorKind::NotFound => {
                    return Err(StoreError::File {
                        action: "remove",
                        path: file.path,
                        source,
                    });
                }
                _ => {}
            }
        }
        Ok(())
    }
}

struct FrameFile {
    path: PathBuf,
    bytes: u64,
    looked_at: SystemTime,
}

/// Of all swings, the one looked at longest ago first. What vanishes meanwhile is left out.
fn frame_files(media: &Path) -> Vec<FrameFile> {
    let entries = |folder: &Path| fs::read_dir(folder).into_iter().flatten().flatten();
    let mut all: Vec<FrameFile> = entries(media)
        .flat_map(|swing| entries(&swing.path().join(FOLDER)))
        .filter_map(|file| {
            let about = file.metadata().ok()?;
            Some(FrameFile {
                path: file.path(),
                bytes: about.len(),
                looked_at: about.modified().ok()?,
            })
        })
        .collect();
    all.sort_by(|a, b| (a.looked_at, &a.path).cmp(&(b.looked_at, &b.path)));
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::Duration;

    #[tokio::test]
    async fn frames_looked_at_longest_ago_go_first_and_the_kept_ones_never() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).await.unwrap();
        let file = |swing: i64| store.frames_folder(SwingId(swing)).join("face_on.strip");
        for swing in 1..=4 {
            fs::create_dir_all(file(swing).parent().unwrap()).unwrap();
            fs::write(file(swing), [0; 100]).unwrap();
            let at = SystemTime::UNIX_EPOCH + Duration::from_secs(1000 * (10 - swing as u64));
            let opened = fs::File::options().write(true).open(file(swing)).unwrap();
            opened.set_modified(at).unwrap();
        }
        store.trim_frames(SwingId(4), 250).unwrap();
        let left: Vec<bool> = (1..=4).map(|swing| file(swing).exists()).collect();
        assert_eq!(
            left,
            [true, false, false, true],
            "4 is the oldest, but kept"
        );
        store.trim_frames(SwingId(4), 0).unwrap();
        assert!(!file(1).exists() && file(4).exists());
    }
}
