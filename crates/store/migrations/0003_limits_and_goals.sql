-- What the player's body does not do well, and what the player wants most: keys of the cause table (JSON).
ALTER TABLE players ADD COLUMN limits TEXT NOT NULL DEFAULT '[]';
ALTER TABLE players ADD COLUMN goals TEXT NOT NULL DEFAULT '[]';
