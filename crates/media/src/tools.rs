//! Where the two programs are, and whether they will do.

use crate::error::MediaError;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The programs that read files for us.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tools {
    /// The decoder.
    pub ffmpeg: PathBuf,
    /// The prober.
    pub ffprobe: PathBuf,
}

/// The first version with the options used here (`-fps_mode` came with 5.1, July 2022).
const OLDEST_VERSION: (u32, u32) = (5, 1);

impl Tools {
    /// Looks in `folder`, or along the system's search path if `None`, and asks both programs for
    /// their version.
    ///
    /// # Errors
    /// [`MediaError::ToolMissing`] or [`MediaError::ToolTooOld`].
    pub fn locate(folder: Option<&Path>) -> Result<Tools, MediaError> {
        let find = |name: &str| folder.map_or_else(|| PathBuf::from(name), |f| f.join(name));
        let tools = Tools {
            ffmpeg: find("ffmpeg"),
            ffprobe: find("ffprobe"),
        };
        // Side by side: each takes as long to start as a swing to be measured.
        let (ffmpeg, ffprobe) = std::thread::scope(|scope| {
            let ffprobe = scope.spawn(|| check_version(&tools.ffprobe));
            (check_version(&tools.ffmpeg), ffprobe.join())
        });
        ffmpeg?;
        ffprobe.expect("asking for a version does not panic")?;
        Ok(tools)
    }
}

fn check_version(tool: &Path) -> Result<(), MediaError> {
    let output = Command::new(tool)
        .args(["-hide_banner", "-version"])
        .output()
        .map_err(|source| MediaError::ToolMissing {
            tool: tool.to_owned(),
            source,
        })?;
    let text = String::from_utf8_lossy(&output.stdout);
    match numbered_version(&text) {
        Some(version) if version < OLDEST_VERSION => Err(MediaError::ToolTooOld {
            tool: tool.to_owned(),
            found: format!("{}.{}", version.0, version.1),
        }),
        _ => Ok(()),
    }
}

/// Major and minor from "ffmpeg version 5.1.9-0+deb12u1 …" or "… version n7.1 …"; `None` for
/// builds from a development branch, which carry no number and are taken as new.
fn numbered_version(text: &str) -> Option<(u32, u32)> {
    let word = text.split_whitespace().nth(2)?;
    let mut numbers = word
        .trim_start_matches('n')
        .split(|c: char| !c.is_ascii_digit())
        .map(str::parse);
    let major = numbers.next()?.ok()?;
    let minor = numbers.next().and_then(Result::ok).unwrap_or(0);
    Some((major, minor))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn version_numbers_are_read_from_release_and_development_builds() {
        let cases = [
            ("ffmpeg version 5.1.9-0+deb12u1 Copyright", Some((5, 1))),
            ("ffprobe version n7.1 Copyright", Some((7, 1))),
            ("ffmpeg version 4.4.2-0ubuntu0 Copyright", Some((4, 4))),
            ("ffmpeg version 8 Copyright", Some((8, 0))),
            ("ffmpeg version N-109468-gd39b34123d Copyright", None),
            ("", None),
        ];
        for (text, expected) in cases {
            assert_eq!(numbered_version(text), expected, "{text}");
        }
    }

    #[test]
    fn a_missing_program_is_named_with_what_to_install() {
        let error = Tools::locate(Some(Path::new("no/such/folder"))).unwrap_err();
        let text = error.to_string();
        assert!(text.contains("ffmpeg was not found"), "{text}");
        assert!(text.contains("apt install ffmpeg"), "{text}");
        assert!(!text.contains('\n'), "{text}");
    }
}
