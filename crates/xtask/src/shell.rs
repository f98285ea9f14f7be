//! Running other programs from the repository's root, with errors that say what was run.

use anyhow::{Context, Result, ensure};
use serde_json::Value;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The repository's root folder.
pub fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors()
        .nth(2)
        .expect("xtask lies two folders below the root")
        .to_path_buf()
}

/// A command that will run in the repository's root.
pub fn command(program: impl AsRef<OsStr>) -> Command {
    let mut command = Command::new(program);
    command.current_dir(root());
    command
}

/// `cargo`, the one that runs us.
pub fn cargo() -> Command {
    command(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
}

/// Build every binary of the workspace. Always all of them, so that no chore builds a crate with
/// other features than the next one does.
pub fn build() -> Result<()> {
    run(cargo().args(["build", "--release", "--workspace", "--bins"]))
}

/// A command that runs one of the workspace's binaries: they lie beside our own, wherever
/// `CARGO_TARGET_DIR` puts them.
pub fn built(name: &str) -> Command {
    let own = std::env::current_exe().expect("a running program has a path");
    command(own.with_file_name(name))
}

/// The JSON that a command prints; anything but success is an error with what it said.
pub fn json_of(command: &mut Command) -> Result<Value> {
    let output = command.output()?;
    ensure!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    Ok(serde_json::from_slice(&output.stdout)?)
}

/// Run to the end; anything but success is an error.
pub fn run(command: &mut Command) -> Result<()> {
    let shown = format!("{command:?}");
    let status = command
        .status()
        .with_context(|| format!("could not start {shown}"))?;
    ensure!(status.success(), "{shown} ended with {status}");
    Ok(())
}

/// Where a program of that name lies on PATH.
pub fn find_on_path(program: &str) -> Option<PathBuf> {
    let file = format!("{program}{}", std::env::consts::EXE_SUFFIX);
    let paths = std::env::var_os("PATH").unwrap_or_default();
    std::env::split_paths(&paths)
        .filter_map(|folder| std::path::absolute(folder.join(&file)).ok())
        .find(|at| at.is_file())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_program_is_found_by_its_whole_path() {
        let cargo = find_on_path("cargo").expect("cargo runs this test");
        assert!(cargo.is_absolute() && cargo.is_file());
        assert_eq!(find_on_path("no-program-of-this-name"), None);
    }
}
