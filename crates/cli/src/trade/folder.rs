//! A studio's folder of own tables and drills: as it lies on the disk, or as it would be with files changed. So a change is
//! read whole and checked before anything is written.

use anyhow::{Context, Result};
use std::collections::BTreeMap;
use std::fs;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

/// Where drills lie in it.
pub const DRILLS: &str = "drills";
/// Where a drill's files go that is left out: nothing is thrown away.
const LEFT_OUT: &str = "left-out";

/// The folder, with what is to be changed in it.
pub struct Folder<'a> {
    at: &'a Path,
    /// By name in the folder ("drills/toes_up.md"); none for a file that is to go.
    instead: BTreeMap<String, Option<Vec<u8>>>,
}

impl<'a> Folder<'a> {
    /// As it lies there.
    pub fn at(at: &'a Path) -> Folder<'a> {
        let instead = BTreeMap::new();
        Folder { at, instead }
    }

    /// With this file in it, or without it.
    pub fn with(mut self, name: &str, bytes: Option<Vec<u8>>) -> Folder<'a> {
        self.instead.insert(name.to_owned(), bytes);
        self
    }

    /// Where a file of it lies.
    pub fn path(&self, name: &str) -> PathBuf {
        self.at.join(name)
    }

    /// A file's text; none if there is no such file.
    pub fn text(&self, name: &str) -> Result<Option<String>> {
        let bytes = self.bytes(name)?;
        let text = bytes.map(String::from_utf8).transpose();
        text.with_context(|| format!("reading {}", self.path(name).display()))
    }

    /// A file's bytes; none if there is no such file.
    pub fn bytes(&self, name: &str) -> Result<Option<Vec<u8>>> {
        if let Some(instead) = self.instead.get(name) {
            return Ok(instead.clone());
        }
        let path = self.path(name);
        match fs::read(&path) {
            Ok(bytes) => Ok(Some(bytes)),
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error).with_context(|| format!("reading {}", path.display())),
        }
    }

    /// Key and text of each own drill, in the order of the alphabet.
    pub fn drills(&self) -> Result<BTreeMap<String, String>> {
        let there = super::pages_in(&self.path(DRILLS))?;
        let mut pages: BTreeMap<String, String> = there.into_iter().collect();
        for (name, bytes) in &self.instead {
            let inside = name.strip_prefix(&format!("{DRILLS}/"));
            let Some(key) = inside.and_then(|name| name.strip_suffix(".md")) else {
                continue;
            };
            match bytes {
                Some(bytes) => {
                    let text = String::from_utf8(bytes.clone());
                    let text = text.with_context(|| format!("{name} is no text"))?;
                    pages.insert(key.to_owned(), text)
                }
                None => pages.remove(key),
            };
        }
        Ok(pages)
    }

    /// Writes what is changed: each file whole or not at all. A file that goes is put aside.
    pub fn write(&self) -> Result<()> {
        for (name, bytes) in &self.instead {
            let path = self.path(name);
            let done = match bytes {
                Some(bytes) => put(&path, bytes),
                None => put_aside(&path),
            };
            done.with_context(|| format!("writing {}", path.display()))?;
        }
        Ok(())
    }
}

/// Under another name first, so that a full disk leaves what was there.
fn put(path: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let folder = path.parent().unwrap_or(Path::new("."));
    fs::create_dir_all(folder)?;
    let mut new = tempfile::Builder::new()
        .prefix(".new-")
        .tempfile_in(folder)?;
    new.write_all(bytes)?;
    new.as_file().sync_all()?;
    new.persist(path)?;
    Ok(())
}

fn put_aside(path: &Path) -> std::io::Result<()> {
    let (Some(folder), Some(name)) = (path.parent(), path.file_name()) else {
        return Ok(());
    };
    let aside = folder.join(LEFT_OUT);
    if !path.exists() {
        return Ok(());
    }
    fs::create_dir_all(&aside)?;
    fs::rename(path, aside.join(name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_reads_as_it_would_be_and_is_written_only_when_told() {
        let here = tempfile::tempdir().unwrap();
        fs::create_dir(here.path().join(DRILLS)).unwrap();
        fs::write(here.path().join("drills/one.md"), "one").unwrap();
        let folder = Folder::at(here.path())
            .with("drills/two.md", Some(b"two".to_vec()))
            .with("drills/one.md", None)
            .with("targets.toml", Some(b"# mine".to_vec()));
        assert_eq!(
            folder.drills().unwrap().into_keys().collect::<Vec<_>>(),
            ["two"]
        );
        assert_eq!(
            folder.text("targets.toml").unwrap().as_deref(),
            Some("# mine")
        );
        assert!(!here.path().join("targets.toml").exists());
        folder.write().unwrap();
        let after = Folder::at(here.path());
        assert_eq!(
            after.drills().unwrap().into_keys().collect::<Vec<_>>(),
            ["two"]
        );
        assert_eq!(
            fs::read(here.path().join("drills/left-out/one.md")).unwrap(),
            b"one"
        );
    }

    #[test]
    fn what_can_not_be_written_leaves_what_was_there() {
        let here = tempfile::tempdir().unwrap();
        fs::write(here.path().join("targets.toml"), "before").unwrap();
        // A folder where a file should be made stands for a disk that takes nothing more.
        fs::write(here.path().join("drills"), "in the way").unwrap();
        let folder = Folder::at(here.path()).with("drills/two.md", Some(b"two".to_vec()));
        let error = format!("{:#}", folder.write().unwrap_err());
        assert!(error.contains("two.md"), "{error}");
        assert_eq!(
            fs::read(here.path().join("targets.toml")).unwrap(),
            b"before"
        );
        assert_eq!(fs::read(here.path().join("drills")).unwrap(), b"in the way");
    }
}
