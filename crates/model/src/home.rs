//! Where a user's Lessonwright keeps what it fetched and what it was told. A pure rule, shared by
//! the binary and the set-up command, so that both look in the same place.

use std::ffi::OsString;
use std::path::PathBuf;

/// The folder for networks, database and media.
///
/// `variable` looks an environment variable up. In order: `LESSONWRIGHT_HOME` as it is; on Windows
/// `%LOCALAPPDATA%`; on macOS `~/Library/Application Support` (Apple, File System Programming
/// Guide); elsewhere `$XDG_DATA_HOME`, else `~/.local/share` (XDG Base Directory Specification
/// 0.8), each with `lessonwright` below it. `None` when the environment names no home at all.
pub fn home_folder(variable: impl Fn(&str) -> Option<OsString>) -> Option<PathBuf> {
    let folder = |name: &str| variable(name).filter(|v| !v.is_empty()).map(PathBuf::from);
    if let Some(stated) = folder("LESSONWRIGHT_HOME") {
        return Some(stated);
    }
    let base = if cfg!(windows) {
        folder("LOCALAPPDATA")?
    } else if cfg!(target_os = "macos") {
        folder("HOME")?.join("Library/Application Support")
    } else {
        // A relative path there "should be considered invalid and ignored".
        match folder("XDG_DATA_HOME").filter(|p| p.is_absolute()) {
            Some(data) => data,
            None => folder("HOME")?.join(".local/share"),
        }
    };
    Some(base.join("lessonwright"))
}

#[cfg(all(test, target_os = "linux"))]
mod tests {
    use super::*;

    #[test]
    fn the_home_follows_the_xdg_specification() {
        let look = |pairs: &'static [(&'static str, &'static str)]| {
            home_folder(|name| {
                pairs
                    .iter()
                    .find(|(n, _)| *n == name)
                    .map(|(_, v)| OsString::from(v))
            })
        };
        /// Variables, and the folder they name.
        type Case = (
            &'static [(&'static str, &'static str)],
            Option<&'static str>,
        );
        let cases: [Case; 5] = [
            (&[("HOME", "/h")], Some("/h/.local/share/lessonwright")),
            (
                &[("HOME", "/h"), ("XDG_DATA_HOME", "/d")],
                Some("/d/lessonwright"),
            ),
            (
                &[("HOME", "/h"), ("XDG_DATA_HOME", "d")],
                Some("/h/.local/share/lessonwright"),
            ),
            (&[("HOME", "/h"), ("LESSONWRIGHT_HOME", "/l")], Some("/l")),
            (&[], None),
        ];
        for (pairs, want) in cases {
            assert_eq!(look(pairs), want.map(PathBuf::from), "{pairs:?}");
        }
    }
}
