//! References, findings, causes, drills and the one priority.
