-- A link is a phone's, for a lesson, or a player's own, for months.
ALTER TABLE phone_links ADD COLUMN kind TEXT NOT NULL DEFAULT 'phone' CHECK (kind IN ('phone', 'personal'));

-- Answers that came by a personal link and that the professional has not read.
CREATE TABLE unread_answers (
    taken_in_id  INTEGER PRIMARY KEY REFERENCES taken_in (id) ON DELETE CASCADE
) STRICT;

-- Where a player agreed to be told by e-mail that a lesson is there.
CREATE TABLE mail_addresses (
    player_id  INTEGER PRIMARY KEY REFERENCES players (id) ON DELETE CASCADE,
    address    TEXT NOT NULL CHECK (length(address) BETWEEN 3 AND 254),
    agreed_on  TEXT NOT NULL CHECK (length(agreed_on) = 10)
) STRICT;

-- E-mails on their way: only of whom and why. The words are made when one is sent; none speaks of health.
CREATE TABLE mails (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    player_id  INTEGER NOT NULL REFERENCES players (id) ON DELETE CASCADE,
    kind       TEXT NOT NULL CHECK (kind IN ('sent_in', 'lesson_ready')),
    state      TEXT NOT NULL CHECK (state IN ('waiting', 'sent', 'given_up')),
    queued_at  TEXT NOT NULL,
    -- Not tried before.
    next_at    TEXT NOT NULL,
    tries      INTEGER NOT NULL DEFAULT 0,
    sent_at    TEXT,
    trouble    TEXT
) STRICT;

-- What more happens before one is sent is in the same.
CREATE UNIQUE INDEX mails_waiting ON mails (player_id, kind) WHERE state = 'waiting';

CREATE TRIGGER lesson_to_be_told AFTER UPDATE OF approved_at ON lessons
WHEN old.approved_at IS NULL AND new.approved_at IS NOT NULL BEGIN
    INSERT OR IGNORE INTO mails (player_id, kind, state, queued_at, next_at)
    SELECT mail_addresses.player_id, 'lesson_ready', 'waiting', new.approved_at, new.approved_at
    FROM analyses JOIN swings ON swings.id = swing_id
    JOIN mail_addresses ON mail_addresses.player_id = swings.player_id
    WHERE analyses.id = new.analysis_id;
END;
