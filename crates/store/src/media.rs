//! Files: a copy is whole or not there.

use crate::error::StoreError;
use sha2::{Digest, Sha256};
use std::fs::{self, File};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};

/// Bytes copied at a time.
const CHUNK: usize = 1 << 20;

/// The extension kept from a clip's name if it is short and plain; phones write mp4 or mov.
pub fn extension(file: &Path) -> String {
    let plain =
        |e: &&str| (1..=5).contains(&e.len()) && e.bytes().all(|b| b.is_ascii_alphanumeric());
    file.extension()
        .and_then(|e| e.to_str())
        .filter(plain)
        .map_or_else(|| "mp4".into(), str::to_ascii_lowercase)
}

/// A copy that is whole and on the disk but not yet in its place.
pub struct Part {
    /// SHA-256 of the file in hexadecimal digits.
    pub sha256: String,
    part: PathBuf,
    to: PathBuf,
}

/// Copies `from` beside `to`, under a name of its own, and syncs it.
pub async fn copy(from: PathBuf, to: PathBuf) -> Result<Part, StoreError> {
    blocking(move || {
        let folder = folder_of(&to);
        fs::create_dir_all(folder).map_err(failed("make the folder", folder))?;
        let part = part_of(&to);
        let source = File::open(&from).map_err(failed("read the clip", &from))?;
        let sha256 = copy_synced(source, &part).map_err(failed("copy the clip to", &part))?;
        Ok(Part { sha256, part, to })
    })
    .await
}

/// Writes bytes beside `to`, under a name of their own, and syncs them.
pub async fn write(bytes: Vec<u8>, to: PathBuf) -> Result<Part, StoreError> {
    blocking(move || {
        let folder = folder_of(&to);
        fs::create_dir_all(folder).map_err(failed("make the folder", folder))?;
        let part = part_of(&to);
        let sha256 = copy_synced(bytes.as_slice(), &part).map_err(failed("write", &part))?;
        Ok(Part { sha256, part, to })
    })
    .await
}

/// Reads a file whole.
pub async fn read(path: PathBuf) -> Result<Vec<u8>, StoreError> {
    blocking(move || fs::read(&path).map_err(failed("read", &path))).await
}

impl Part {
    /// Puts the copy in its place, in one step.
    pub async fn settle(self) -> Result<PathBuf, StoreError> {
        blocking(move || {
            fs::rename(&self.part, &self.to).map_err(failed("move the clip to", &self.to))?;
            let folder = folder_of(&self.to);
            sync_folder(folder).map_err(failed("write", folder))?;
            Ok(self.to)
        })
        .await
    }

    /// Removes the copy.
    pub async fn discard(self) -> Result<(), StoreError> {
        blocking(move || fs::remove_file(&self.part).map_err(failed("remove", &self.part))).await
    }
}

/// Removes a file; one that is not there is removed already.
pub async fn remove_file(path: PathBuf) -> Result<(), StoreError> {
    blocking(move || match fs::remove_file(&path) {
        Err(e) if e.kind() != io::ErrorKind::NotFound => Err(failed("remove", &path)(e)),
        _ => Ok(()),
    })
    .await
}

/// Makes a folder and those above it.
pub async fn create_folder(folder: &Path) -> Result<(), StoreError> {
    let folder = folder.to_path_buf();
    blocking(move || fs::create_dir_all(&folder).map_err(failed("make the folder", &folder))).await
}

/// Removes a folder and all in it; one that is not there is removed already.
pub async fn remove_folder(folder: &Path) -> Result<(), StoreError> {
    let folder = folder.to_path_buf();
    blocking(move || match fs::remove_dir_all(&folder) {
        Err(e) if e.kind() != io::ErrorKind::NotFound => Err(failed("remove", &folder)(e)),
        _ => Ok(()),
    })
    .await
}

fn folder_of(path: &Path) -> &Path {
    path.parent().unwrap_or(Path::new("."))
}

/// A name that no other copy under way has, in this program or another.
fn part_of(path: &Path) -> PathBuf {
    static COPIES: AtomicU64 = AtomicU64::new(0);
    let mut name = path.as_os_str().to_owned();
    let copy = COPIES.fetch_add(1, Ordering::Relaxed);
    name.push(format!(".{}-{copy}.part", std::process::id()));
    name.into()
}

fn copy_synced(mut source: impl Read, to: &Path) -> io::Result<String> {
    let mut target = File::create(to)?;
    let mut hash = Sha256::new();
    let mut chunk = vec![0; CHUNK];
    loop {
        let read = source.read(&mut chunk)?;
        if read == 0 {
            break;
        }
        hash.update(&chunk[..read]);
        target.write_all(&chunk[..read])?;
    }
    target.sync_all()?;
    Ok(hash
        .finalize()
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect())
}

/// A rename is on the disk only when its folder is. Windows has no such call and needs none.
fn sync_folder(folder: &Path) -> io::Result<()> {
    if cfg!(unix) {
        File::open(folder)?.sync_all()
    } else {
        Ok(())
    }
}

fn failed(action: &'static str, path: &Path) -> impl FnOnce(io::Error) -> StoreError {
    let path = path.to_path_buf();
    move |source| StoreError::File {
        action,
        path,
        source,
    }
}

/// Runs file work off the asynchronous threads.
async fn blocking<T: Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> T {
    match tokio::task::spawn_blocking(work).await {
        Ok(value) => value,
        Err(error) => std::panic::resume_unwind(error.into_panic()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_plain_extension_is_kept() {
        for (name, expected) in [
            ("swing.MOV", "mov"),
            ("swing.mp4", "mp4"),
            ("swing", "mp4"),
            ("swing.a/b", "mp4"),
            ("swing.", "mp4"),
            ("swing.toolong", "mp4"),
        ] {
            assert_eq!(extension(Path::new(name)), expected, "{name}");
        }
    }

    #[tokio::test]
    async fn a_copy_has_the_published_hash_and_leaves_no_part() {
        let folder = tempfile::tempdir().unwrap();
        let from = folder.path().join("abc");
        std::fs::write(&from, "abc").unwrap();
        let to = folder.path().join("media/1/face_on.mp4");
        let part = copy(from, to.clone()).await.unwrap();
        // FIPS 180-4 example: SHA-256 of "abc".
        assert_eq!(
            part.sha256,
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
        assert!(!to.exists());
        part.settle().await.unwrap();
        assert_eq!(std::fs::read(&to).unwrap(), b"abc");
        assert_eq!(std::fs::read_dir(to.parent().unwrap()).unwrap().count(), 1);
    }
}
