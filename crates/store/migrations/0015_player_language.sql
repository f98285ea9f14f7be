-- The language of what a player gets, as its tag (BCP 47); NULL where it is the studio's.
ALTER TABLE players ADD COLUMN language TEXT;
