//! Files: a copy is whole or not there.

use crate::error::StoreError;
use sha2::{Digest, Sha256};
use std::fs::{self, File};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Duration;

/// Bytes copied at a time.
pub const CHUNK: usize = 1 << 20;

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

/// Names of the plain files in a folder, sorted, without copies under way; none where there is no folder.
pub async fn files_in(folder: PathBuf) -> Result<Vec<String>, StoreError> {
    blocking(move || {
        let mut names = Vec::new();
        for entry in entries(&folder)? {
            let plain = entry
                .file_type()
                .map_err(failed("read", &folder))?
                .is_file();
            names.extend(
                entry
                    .file_name()
                    .into_string()
                    .ok()
                    .filter(|name| plain && !name.ends_with(".part")),
            );
        }
        Ok(names)
    })
    .await
}

/// SHA-256 of a text, 64 hexadecimal digits.
pub fn sha256_text(text: &str) -> String {
    hex(&Sha256::digest(text))
}

/// Removes a file; one that is not there is removed already.
pub async fn remove_file(file: &Path) -> Result<(), StoreError> {
    let file = file.to_path_buf();
    blocking(move || match fs::remove_file(&file) {
        Err(e) if e.kind() != io::ErrorKind::NotFound => Err(failed("remove", &file)(e)),
        _ => Ok(()),
    })
    .await
}

/// A copy that nobody has written to for so long is of a program that was cut.
const CUT_AFTER: Duration = Duration::from_secs(24 * 3600);

/// Removes the files of a folder whose names are not known, and copies that were cut short.
pub async fn sweep(
    folder: &Path,
    is_known: impl Fn(&str) -> bool + Send + 'static,
) -> Result<(), StoreError> {
    for name in names(folder).await? {
        let file = folder.join(&name);
        let stays = match name.ends_with(".part") {
            true => {
                let meta = tokio::fs::metadata(&file).await;
                let written = meta.and_then(|meta| meta.modified());
                written.is_ok_and(|at| at.elapsed().is_ok_and(|since| since < CUT_AFTER))
            }
            false => is_known(&name),
        };
        if !stays {
            remove_file(&file).await?;
        }
    }
    Ok(())
}

/// The names, without it, of a folder's files with this extension.
pub async fn stems(folder: &Path, extension: &str) -> Result<Vec<String>, StoreError> {
    let end = format!(".{extension}");
    let stem = |name: String| name.strip_suffix(&end).map(str::to_owned);
    Ok(names(folder).await?.into_iter().filter_map(stem).collect())
}

/// Names in a folder, sorted; none where there is no folder.
async fn names(folder: &Path) -> Result<Vec<String>, StoreError> {
    let folder = folder.to_path_buf();
    blocking(move || {
        let all = entries(&folder)?.into_iter();
        Ok(all
            .filter_map(|entry| entry.file_name().into_string().ok())
            .collect())
    })
    .await
}

impl Part {
    /// Its length.
    pub async fn bytes(&self) -> Result<u64, StoreError> {
        let part = self.part.clone();
        blocking(move || match fs::metadata(&part) {
            Ok(meta) => Ok(meta.len()),
            Err(e) => Err(failed("read", &part)(e)),
        })
        .await
    }

    /// Puts the copy in another place, in one step.
    pub async fn settle_at(mut self, to: PathBuf) -> Result<PathBuf, StoreError> {
        self.to = to;
        self.settle().await
    }

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

/// What lies in a folder, by name; nothing where there is no folder.
pub fn entries(folder: &Path) -> Result<Vec<fs::DirEntry>, StoreError> {
    let entries = match fs::read_dir(folder) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        read => read.map_err(failed("read", folder))?,
    };
    let mut all = entries
        .collect::<io::Result<Vec<_>>>()
        .map_err(failed("read", folder))?;
    all.sort_by_key(fs::DirEntry::file_name);
    Ok(all)
}

/// Moves a file that lies on the same disk to its place, in one step.
pub async fn take_in_place(from: PathBuf, to: PathBuf) -> Result<(), StoreError> {
    blocking(move || {
        let folder = folder_of(&to);
        fs::create_dir_all(folder).map_err(failed("make the folder", folder))?;
        fs::rename(&from, &to).map_err(failed("move a file to", &to))?;
        sync_folder(folder).map_err(failed("write", folder))
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
    Ok(hex(&hash.finalize()))
}

/// Hexadecimal digits.
pub fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// A rename is on the disk only when its folder is. Windows has no such call and needs none.
fn sync_folder(folder: &Path) -> io::Result<()> {
    if cfg!(unix) {
        File::open(folder)?.sync_all()
    } else {
        Ok(())
    }
}

/// Names the attempt and the file when the system refuses.
pub fn failed(action: &'static str, path: &Path) -> impl FnOnce(io::Error) -> StoreError {
    let path = path.to_path_buf();
    move |source| StoreError::File {
        action,
        path,
        source,
    }
}

/// Runs file work off the asynchronous threads.
pub async fn blocking<T: Send + 'static>(work: impl FnOnce() -> T + Send + 'static) -> T {
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
