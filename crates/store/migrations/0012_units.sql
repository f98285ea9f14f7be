-- What is set for the whole studio, and the unit of length that comes first for one player; none: as the studio has it.
CREATE TABLE studio_settings (
    name  TEXT NOT NULL PRIMARY KEY,
    value TEXT NOT NULL
) STRICT;

ALTER TABLE players ADD COLUMN units TEXT CHECK (units IN ('cm', 'in'));
