-- What players sent back: each bundle once, with its answers (JSON) as they came.
CREATE TABLE taken_in (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    player_id  INTEGER NOT NULL REFERENCES players (id) ON DELETE CASCADE,
    sha256     TEXT NOT NULL CHECK (length(sha256) = 64),
    answers    TEXT NOT NULL,
    taken_at   TEXT NOT NULL,
    UNIQUE (player_id, sha256)
) STRICT;
