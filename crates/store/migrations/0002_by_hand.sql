-- What the professional said of a swing when it was analysed (JSON), so that it can be analysed again.
-- Swings kept before this have none.
CREATE TABLE briefs (
    swing_id  INTEGER PRIMARY KEY REFERENCES swings (id) ON DELETE CASCADE,
    brief     TEXT NOT NULL
) STRICT;

-- Corrections by hand (JSON), each row all that is corrected from then on; the latest row counts, and
-- taking a change back removes it. The analyses computed under them stay.
CREATE TABLE corrections (
    id           INTEGER PRIMARY KEY AUTOINCREMENT,
    swing_id     INTEGER NOT NULL REFERENCES swings (id) ON DELETE CASCADE,
    corrections  TEXT NOT NULL,
    made_at      TEXT NOT NULL
) STRICT;

CREATE INDEX corrections_by_swing ON corrections (swing_id);
