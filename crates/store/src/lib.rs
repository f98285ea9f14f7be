//! Players, swings, analyses and lessons in a database.
