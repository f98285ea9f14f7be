-- What the professional chose for a swing's lesson (JSON) and said over it: the voice's file in the swing's media folder, and
-- which frame was looked at when (JSON). When anything of it changed, so that it is known which draft has it.
CREATE TABLE lesson_choices (
    swing_id    INTEGER PRIMARY KEY REFERENCES swings (id) ON DELETE CASCADE,
    choices     TEXT NOT NULL,
    voice       TEXT,
    scrub       TEXT,
    changed_at  TEXT NOT NULL
) STRICT;
