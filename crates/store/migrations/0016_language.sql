-- What is set for the whole studio (0012 makes the same table): the language, as a tag.
CREATE TABLE IF NOT EXISTS studio_settings (
    name  TEXT NOT NULL PRIMARY KEY,
    value TEXT NOT NULL
) STRICT;
