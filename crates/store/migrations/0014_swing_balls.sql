-- What the professional told of the ball of a swing (JSON, as it was told: what it says of the club is worked out anew each time),
-- and the flight that came of it, in the words of a lesson's flight; none where the ball leaves that open.
CREATE TABLE swing_balls (
    swing_id    INTEGER PRIMARY KEY REFERENCES swings (id) ON DELETE CASCADE,
    ball        TEXT NOT NULL,
    flight      TEXT,
    told_at     TEXT NOT NULL
) STRICT;
