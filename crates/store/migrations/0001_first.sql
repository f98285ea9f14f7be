-- Instants are RFC 3339 text in UTC. Keys are never used again (AUTOINCREMENT), since media folders
-- are named after them.

CREATE TABLE players (
    id                   INTEGER PRIMARY KEY AUTOINCREMENT,
    name                 TEXT NOT NULL CHECK (length(trim(name)) > 0),
    hand                 TEXT CHECK (hand IN ('right', 'left')),
    stature_m            REAL CHECK (stature_m > 0),
    age_years            INTEGER CHECK (age_years >= 0),
    usual_flight         TEXT,
    health_note          TEXT,
    guardian             TEXT,
    guardian_consent_at  TEXT,
    added_at             TEXT NOT NULL,
    CHECK ((guardian IS NULL) = (guardian_consent_at IS NULL))
) STRICT;

CREATE UNIQUE INDEX players_by_name ON players (name);

CREATE TABLE swings (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    player_id  INTEGER NOT NULL REFERENCES players (id) ON DELETE CASCADE,
    filmed_at  TEXT,
    added_at   TEXT NOT NULL
) STRICT;

CREATE INDEX swings_by_player ON swings (player_id);

CREATE TABLE clips (
    id        INTEGER PRIMARY KEY AUTOINCREMENT,
    swing_id  INTEGER NOT NULL REFERENCES swings (id) ON DELETE CASCADE,
    view      TEXT NOT NULL CHECK (view IN ('face_on', 'down_the_line')),
    path      TEXT NOT NULL,
    facts     TEXT NOT NULL,
    sha256    TEXT NOT NULL CHECK (length(sha256) = 64),
    UNIQUE (swing_id, view)
) STRICT;

CREATE TABLE analyses (
    id               INTEGER PRIMARY KEY AUTOINCREMENT,
    swing_id         INTEGER NOT NULL REFERENCES swings (id) ON DELETE CASCADE,
    schema_version   INTEGER NOT NULL,
    program_version  TEXT NOT NULL,
    analysis         TEXT NOT NULL,
    computed_at      TEXT NOT NULL
) STRICT;

CREATE INDEX analyses_by_swing ON analyses (swing_id);

CREATE TABLE lessons (
    id           INTEGER PRIMARY KEY AUTOINCREMENT,
    analysis_id  INTEGER NOT NULL REFERENCES analyses (id) ON DELETE CASCADE,
    page         BLOB NOT NULL,
    drafted_at   TEXT NOT NULL,
    approved_at  TEXT,
    sent_at      TEXT,
    CHECK (sent_at IS NULL OR approved_at IS NOT NULL)
) STRICT;

CREATE INDEX lessons_by_analysis ON lessons (analysis_id);

-- Media folders of erased players that are still to be removed from the disk.
CREATE TABLE erasures (
    swing_id  INTEGER PRIMARY KEY
) STRICT;
