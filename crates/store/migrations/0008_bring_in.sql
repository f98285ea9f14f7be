-- Clips that were brought in and are not yet part of a swing, and the work on them.

-- One swing to be taken down the road, of one clip or two. Under way when the studio closed: waiting when it opens.
CREATE TABLE swing_works (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    player_id  INTEGER NOT NULL REFERENCES players (id) ON DELETE CASCADE,
    state      TEXT NOT NULL CHECK (state IN ('waiting', 'under_way', 'done', 'failed', 'stopped')),
    trouble    TEXT,
    swing_id   INTEGER REFERENCES swings (id) ON DELETE SET NULL,
    asked_at   TEXT NOT NULL
) STRICT;

-- A page on the local network where one player's clips can be brought in. Only the token's hash is kept.
CREATE TABLE phone_links (
    id            INTEGER PRIMARY KEY AUTOINCREMENT,
    player_id     INTEGER NOT NULL REFERENCES players (id) ON DELETE CASCADE,
    token_sha256  TEXT NOT NULL UNIQUE CHECK (length(token_sha256) = 64),
    made_at       TEXT NOT NULL,
    ends_at       TEXT NOT NULL
) STRICT;

-- The file is arrivals/<id>.<extension>, its first picture arrivals/<id>.jpg in the studio's folder.
CREATE TABLE arrivals (
    id          INTEGER PRIMARY KEY AUTOINCREMENT,
    player_id   INTEGER REFERENCES players (id) ON DELETE CASCADE,
    link_id     INTEGER REFERENCES phone_links (id) ON DELETE SET NULL,
    work_id     INTEGER REFERENCES swing_works (id) ON DELETE SET NULL,
    name        TEXT NOT NULL,
    came_by     TEXT NOT NULL CHECK (came_by IN ('page', 'phone', 'folder', 'camera', 'command')),
    bytes       INTEGER NOT NULL,
    sha256      TEXT NOT NULL CHECK (length(sha256) = 64),
    arrived_at  TEXT NOT NULL,
    state       TEXT NOT NULL CHECK (state IN ('arrived', 'opened', 'watched', 'failed', 'stopped')),
    trouble     TEXT,
    -- What the file says of itself, JSON; from 'opened' on.
    facts       TEXT,
    view_said   TEXT CHECK (view_said IN ('face_on', 'down_the_line')),
    -- What the picture shows, from 'watched' on.
    view_found  TEXT CHECK (view_found IN ('face_on', 'down_the_line')),
    -- The professional said that it goes with no other clip.
    alone       INTEGER NOT NULL DEFAULT 0
) STRICT;

CREATE INDEX arrivals_by_player ON arrivals (player_id);

-- Files of watched folders that were taken once, by the SHA-256 of their bytes.
CREATE TABLE taken_files (
    sha256    TEXT PRIMARY KEY CHECK (length(sha256) = 64),
    taken_at  TEXT NOT NULL
) STRICT;

-- How long each step took here, for the time left: seconds a unit of the step's work, the latest measured.
CREATE TABLE paces (
    step            TEXT PRIMARY KEY,
    seconds_a_unit  REAL NOT NULL CHECK (seconds_a_unit >= 0)
) STRICT;
