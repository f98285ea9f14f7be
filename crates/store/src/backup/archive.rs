//! The file itself: written part by part, and read again.

use super::{CONTENTS, Contents, Part, VERSION};
use crate::error::StoreError;
use crate::media::{CHUNK, failed, hex};
use crate::records::plain;
use sha2::{Digest, Sha256};
use std::collections::BTreeSet;
use std::fs::File;
use std::io::{self, BufReader, BufWriter, Read, Write};
use std::path::{Path, PathBuf};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipArchive, ZipWriter};

/// Most bytes of the list of parts: some 150 a part.
const MOST_CONTENTS_BYTES: u64 = 1 << 28;

/// A file to be packed.
pub struct Source {
    /// Where it belongs in the studio's folder.
    pub path: String,
    pub file: PathBuf,
}

/// Packs the sources into a new file, last the list of them. A source that is gone is left out.
pub fn write(
    to: &Path,
    mut contents: Contents,
    sources: &[Source],
    report: &dyn Fn(f64),
) -> Result<Vec<Part>, StoreError> {
    let file = File::create(to).map_err(failed("write", to))?;
    let mut zip = ZipWriter::new(BufWriter::new(file));
    for (done, source) in sources.iter().enumerate() {
        report(done as f64 / sources.len() as f64);
        let from = match File::open(&source.file) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => continue,
            opened => opened.map_err(failed("read", &source.file))?,
        };
        let bytes = from.metadata().map_err(failed("read", &source.file))?.len();
        begin(&mut zip, to, &source.path, bytes)?;
        let (bytes, sha256) = copy(from, &mut zip).map_err(failed("write", to))?;
        contents.parts.push(Part {
            path: source.path.clone(),
            bytes,
            sha256,
        });
    }
    let list = serde_json::to_vec_pretty(&contents).map_err(|error| backup(to, error))?;
    begin(&mut zip, to, CONTENTS, list.len() as u64)?;
    zip.write_all(&list).map_err(failed("write", to))?;
    let file = zip.finish().map_err(|error| backup(to, error))?;
    let file = file
        .into_inner()
        .map_err(|error| failed("write", to)(error.into_error()))?;
    file.sync_all().map_err(failed("write", to))?;
    Ok(contents.parts)
}

/// Parts are films, packed already: they are taken as they are. No date, so that the same studio gives the same bytes.
fn begin(
    zip: &mut ZipWriter<BufWriter<File>>,
    to: &Path,
    path: &str,
    bytes: u64,
) -> Result<(), StoreError> {
    let as_it_is = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Stored)
        // Only where it must be: not every program reads the larger form.
        .large_file(bytes >= u64::from(u32::MAX));
    zip.start_file(path, as_it_is)
        .map_err(|error| backup(to, error))
}

/// Reads a file and its list of parts.
pub fn open(from: &Path) -> Result<(ZipArchive<BufReader<File>>, Contents), StoreError> {
    let file = File::open(from).map_err(failed("read", from))?;
    let mut zip = ZipArchive::new(BufReader::new(file)).map_err(|error| backup(from, error))?;
    let list = zip.by_name(CONTENTS).map_err(|error| backup(from, error))?;
    let contents: Contents = serde_json::from_reader(list.take(MOST_CONTENTS_BYTES))
        .map_err(|error| backup(from, error))?;
    if contents.version > VERSION {
        return Err(StoreError::Backup(format!(
            "{} was made by a later version of lessonwright: install that version",
            from.display()
        )));
    }
    let mut paths = BTreeSet::new();
    for part in &contents.parts {
        plain(&part.path)?;
        if !paths.insert(&part.path) {
            return Err(backup(from, format!("it names {} twice", part.path)));
        }
    }
    Ok((zip, contents))
}

/// Reads every part and holds it against the list.
pub fn check(from: &Path, report: &dyn Fn(f64)) -> Result<(), StoreError> {
    each(from, report, |_| Ok(Box::new(io::sink())))
}

/// Every part into what `target` gives for it, held against the list.
pub fn each<'a>(
    from: &Path,
    report: &dyn Fn(f64),
    mut target: impl FnMut(&Part) -> Result<Box<dyn Write + 'a>, StoreError>,
) -> Result<(), StoreError> {
    let (mut zip, contents) = open(from)?;
    let count = contents.parts.len();
    for (done, part) in contents.parts.iter().enumerate() {
        report(done as f64 / count as f64);
        let packed = zip
            .by_name(&part.path)
            .map_err(|error| backup(from, error))?;
        // Not a byte more than the list says.
        let (bytes, sha256) =
            copy(packed.take(part.bytes + 1), target(part)?).map_err(failed("read", from))?;
        if bytes != part.bytes || sha256 != part.sha256 {
            return Err(backup(from, format!("{} in it is damaged", part.path)));
        }
    }
    report(1.0);
    Ok(())
}

fn copy(mut from: impl Read, mut to: impl Write) -> io::Result<(u64, String)> {
    let (mut hash, mut bytes) = (Sha256::new(), 0);
    let mut chunk = vec![0; CHUNK];
    loop {
        let read = from.read(&mut chunk)?;
        if read == 0 {
            to.flush()?;
            return Ok((bytes, hex(&hash.finalize())));
        }
        hash.update(&chunk[..read]);
        to.write_all(&chunk[..read])?;
        bytes += read as u64;
    }
}

pub fn backup(file: &Path, why: impl std::fmt::Display) -> StoreError {
    StoreError::Backup(format!("{} is not a whole backup: {why}", file.display()))
}
