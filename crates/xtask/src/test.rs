//! Every test, and every check that is not a test.

use crate::programs;
use crate::shell::{cargo, command, find_on_path, root, run};
use anyhow::{Context, Result};
use clap::Args;

/// What to leave out.
#[derive(Args)]
pub struct Options {
    /// Only the Rust tests, not the browser's.
    #[arg(long)]
    no_browser: bool,
}

/// Rust tests of the whole workspace, then the browser's.
///
/// All in release: the tests run the networks and the renderer. The binaries that the browser meets are built with the
/// tests; to build them before that builds `exchange`, `web` and `cli` twice, since the tests ask for more of outside
/// crates.
pub fn test_everything(options: &Options) -> Result<()> {
    run(cargo().args(["test", "--release", "--workspace", "--no-fail-fast"]))?;
    if !options.no_browser {
        test_in_browser()?;
    }
    Ok(())
}

fn test_in_browser() -> Result<()> {
    let folder = root().join("tests/browser");
    let chromium = programs::chromium().context("Chromium is gone since the set-up")?;
    let install = [
        "ci",
        "--silent",
        "--no-audit",
        "--no-fund",
        "--ignore-scripts",
    ];
    run(command("npm").current_dir(&folder).args(install))?;
    run(command("node")
        .current_dir(&folder)
        .arg("--test")
        .env("CHROMIUM", chromium))
}

/// Formatting, lints, documentation and licences, as asked for before hand-in.
pub fn check_everything() -> Result<()> {
    run(cargo().args(["fmt", "--all", "--check"]))?;
    let clippy = [
        "clippy",
        "--release",
        "--workspace",
        "--all-targets",
        "--",
        "-D",
        "warnings",
    ];
    run(cargo().args(clippy))?;
    run(cargo()
        .args(["doc", "--workspace", "--no-deps"])
        .env("RUSTDOCFLAGS", "-D warnings"))?;
    if find_on_path("cargo-deny").is_some() {
        return run(cargo().args(["deny", "check", "bans", "licenses", "sources"]));
    }
    println!("cargo-deny is not installed; to check licences: cargo install cargo-deny --locked");
    Ok(())
}
