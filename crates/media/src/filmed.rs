//! When a clip was filmed, as its file says.

use crate::error::MediaError;
use crate::probe::describe_tags;
use crate::tools::Tools;
use lessonwright_model::Cancel;
use std::path::Path;

/// When filming began, RFC 3339 or ISO 8601 text as the file has it; none where it says nothing.
///
/// # Errors
/// As [`crate::probe()`].
pub fn filmed_at(
    tools: &Tools,
    path: &Path,
    cancel: &Cancel,
) -> Result<Option<String>, MediaError> {
    let tags = describe_tags(tools, path, cancel)?;
    // Apple's own field carries the zone; the container's is UTC (ISO/IEC 14496-12 8.2.2).
    let named = |name| {
        tags.get(name)
            .filter(|text: &&String| !text.starts_with("19"))
    };
    Ok(named("com.apple.quicktime.creationdate")
        .or_else(|| named("creation_time"))
        .cloned())
}
