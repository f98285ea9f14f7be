-- What model swings and published figures are grouped by.
ALTER TABLE players ADD COLUMN sex TEXT CHECK (sex IN ('female', 'male'));
-- Answers before any prescription (JSON), the last ones only: of health no more is kept than is needed.
ALTER TABLE players ADD COLUMN screening TEXT;
-- Where, when and how long the player practises (JSON).
ALTER TABLE players ADD COLUMN practice TEXT;
-- What the player's measures are held against (JSON); none for the studio's targets.
ALTER TABLE players ADD COLUMN reference TEXT;

-- The kind of club, and when the professional made the swing a model; none for neither.
ALTER TABLE swings ADD COLUMN club TEXT;
ALTER TABLE swings ADD COLUMN model_since TEXT;
