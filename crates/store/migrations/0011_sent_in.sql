-- Swings that a player sent from afar, in a bundle; all others were filmed or brought in at the studio.
CREATE TABLE sent_in (
    swing_id INTEGER PRIMARY KEY REFERENCES swings (id) ON DELETE CASCADE
) STRICT;
