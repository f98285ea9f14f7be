//! The programs the product and its tests need from the system: ffmpeg (with ffprobe), Chromium,
//! Node with npm, and a font for Chromium to write with.

use crate::shell::{command, find_on_path, run};
use anyhow::{Result, bail};
use std::path::PathBuf;

/// A program and the package that brings it, for Debian and for Homebrew.
struct Needed {
    /// Any one of these will do.
    programs: &'static [&'static str],
    /// Places outside PATH where it may live.
    elsewhere: &'static [&'static str],
    debian: &'static str,
    homebrew: &'static str,
}

const NEEDED: [Needed; 4] = [
    Needed {
        programs: &["ffmpeg"],
        elsewhere: &[],
        debian: "ffmpeg",
        homebrew: "ffmpeg",
    },
    Needed {
        programs: &["ffprobe"],
        elsewhere: &[],
        debian: "ffmpeg",
        homebrew: "ffmpeg",
    },
    Needed {
        programs: &["chromium", "chromium-browser", "google-chrome"],
        elsewhere: &[
            "/Applications/Chromium.app/Contents/MacOS/Chromium",
            "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
        ],
        debian: "chromium fonts-dejavu-core",
        homebrew: "--cask chromium",
    },
    Needed {
        programs: &["npm"],
        elsewhere: &[],
        debian: "nodejs npm",
        homebrew: "node",
    },
];

/// Install what is missing where that can be done without asking; else say in one line what to
/// install.
pub fn install_missing() -> Result<()> {
    let missing: Vec<&Needed> = NEEDED.iter().filter(|n| find(n).is_none()).collect();
    if missing.is_empty() {
        return Ok(());
    }
    let mut debian: Vec<&str> = missing.iter().flat_map(|n| n.debian.split(' ')).collect();
    debian.dedup();
    if find_on_path("apt-get").is_none() {
        let brew: Vec<&str> = missing.iter().map(|n| n.homebrew).collect();
        bail!(
            "missing programs; please run: brew install {}",
            brew.join(" ")
        );
    }
    println!("Installing {} …", debian.join(", "));
    if apt(&["update", "-q"]).is_ok()
        && apt(&[&["install", "-y", "-q"], &debian[..]].concat()).is_ok()
    {
        return Ok(());
    }
    bail!(
        "missing programs; please run: sudo apt-get install {}",
        debian.join(" ")
    );
}

/// Chromium's path, for the browser test.
pub fn chromium() -> Option<PathBuf> {
    find(&NEEDED[2])
}

fn find(needed: &Needed) -> Option<PathBuf> {
    let on_path = needed.programs.iter().find_map(|name| find_on_path(name));
    on_path.or_else(|| {
        let mut elsewhere = needed.elsewhere.iter().map(PathBuf::from);
        elsewhere.find(|at| at.is_file())
    })
}

/// `apt-get`, through `sudo` without a password where we are not root.
fn apt(arguments: &[&str]) -> Result<()> {
    let root = command("id")
        .arg("-u")
        .output()
        .is_ok_and(|id| id.stdout.starts_with(b"0"));
    let mut apt = if root {
        command("apt-get")
    } else {
        command("sudo")
    };
    if !root {
        apt.args(["-n", "apt-get"]);
    }
    run(apt.env("DEBIAN_FRONTEND", "noninteractive").args(arguments))
}
