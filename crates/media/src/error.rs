//! What can go wrong with a clip, in words for the person who chose it: what, where, what to do.

use std::path::{Path, PathBuf};

/// Why a clip could not be probed or decoded.
#[derive(Debug, thiserror::Error)]
pub enum MediaError {
    /// `ffmpeg` or `ffprobe` can't be started.
    #[error(
        "{tool} was not found; install ffmpeg 5.1 or later (Debian and Ubuntu: `apt install \
         ffmpeg`, macOS: `brew install ffmpeg`) and try again"
    )]
    ToolMissing {
        /// The program that was looked for.
        tool: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// `ffmpeg` or `ffprobe` is older than what this crate relies on.
    #[error("{tool} is version {found}; version 5.1 or later is needed: update ffmpeg")]
    ToolTooOld {
        /// The program.
        tool: PathBuf,
        /// Its version.
        found: String,
    },
    /// The file can't be opened at all.
    #[error("{clip}: the file can't be opened ({source}); check its name and your permissions")]
    CannotOpen {
        /// The clip.
        clip: String,
        /// What the system said.
        source: std::io::Error,
    },
    /// Zero bytes.
    #[error("{clip}: the file is empty; copy it again from the phone")]
    Empty {
        /// The clip.
        clip: String,
    },
    /// Not a video, or too damaged to be read as one.
    #[error("{clip}: not a video that can be read: {reason}")]
    NotVideo {
        /// The clip.
        clip: String,
        /// What is wrong and what to do.
        reason: String,
    },
    /// Larger or longer than the limits.
    #[error("{clip}: {what}")]
    TooBig {
        /// The clip.
        clip: String,
        /// What is too big, the limit, and what to do.
        what: String,
    },
    /// The decoder gave up, or gave nothing.
    #[error("{clip}: {doing} failed: {reason}")]
    Decoding {
        /// The clip.
        clip: String,
        /// What was being done.
        doing: &'static str,
        /// What the decoder said and what to do.
        reason: String,
    },
    /// The child process stopped answering or worked longer than it may.
    #[error(
        "{clip}: {doing} took longer than {limit_s} s and was stopped; the file may be damaged or \
         its disk slow: copy it to this machine again and retry"
    )]
    TimedOut {
        /// The clip.
        clip: String,
        /// What was being done.
        doing: &'static str,
        /// The limit.
        limit_s: u64,
    },
    /// The caller asked for something that makes no sense.
    #[error("{clip}: {problem}")]
    BadRequest {
        /// The clip.
        clip: String,
        /// What, and what would be right.
        problem: String,
    },
    /// Somebody pressed stop.
    #[error("{clip}: cancelled")]
    Cancelled {
        /// The clip.
        clip: String,
    },
    /// A pipe or a process call failed for a reason of the system's.
    #[error("{clip}: {doing} failed: {source}")]
    System {
        /// The clip.
        clip: String,
        /// What was being done.
        doing: &'static str,
        /// What the system said.
        source: std::io::Error,
    },
}

/// A file's name without its folder, for messages and facts.
pub(crate) fn clip_name(path: &Path) -> String {
    path.file_name()
        .unwrap_or(path.as_os_str())
        .to_string_lossy()
        .into_owned()
}

/// Turns what ffmpeg printed into a reason a person can act on.
pub(crate) fn plain_reason(messages: &str) -> String {
    // ffmpeg's own words (libavformat/mov.c, libavutil/error.c), what they mean, what to do.
    const KNOWN: [(&str, &str); 4] = [
        (
            "moov atom not found",
            "its index is missing, as when a copy was cut short; copy it again from the phone",
        ),
        (
            "Cannot allocate memory",
            "it needs more memory than is allowed; make a smaller copy (4K or less) and use that",
        ),
        (
            "Invalid data found",
            "its contents are no video, or damaged; export it again as MP4 or MOV",
        ),
        (
            "Decoder not found",
            "this ffmpeg can't decode its codec; export it as H.264 or HEVC, or install a full \
             ffmpeg",
        ),
    ];
    if let Some((_, plain)) = KNOWN.iter().find(|(words, _)| messages.contains(words)) {
        return (*plain).to_owned();
    }
    match messages.lines().rev().find(|line| !line.trim().is_empty()) {
        Some(line) => format!("{}; export it again as MP4 or MOV", line.trim()),
        None => "the decoder gave no reason; export it again as MP4 or MOV".to_owned(),
    }
}
