-- What the player told of his or her golf so far, and which clubs are in the bag, in the professional's words.
ALTER TABLE players ADD COLUMN background TEXT;
ALTER TABLE players ADD COLUMN bag TEXT;
CREATE INDEX players_by_name_as_read ON players (name COLLATE NOCASE, id);

-- When the professional looked at a swing and it needs no lesson.
ALTER TABLE swings ADD COLUMN set_aside_at TEXT;

CREATE TABLE appointments (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    player_id  INTEGER NOT NULL REFERENCES players (id) ON DELETE CASCADE,
    starts_at  TEXT NOT NULL,
    minutes    INTEGER NOT NULL CHECK (minutes BETWEEN 5 AND 1440),
    place      TEXT NOT NULL,
    purpose    TEXT NOT NULL
) STRICT;

CREATE INDEX appointments_by_start ON appointments (starts_at);
CREATE INDEX appointments_by_player ON appointments (player_id, starts_at);

CREATE TABLE notes (
    id          INTEGER PRIMARY KEY AUTOINCREMENT,
    player_id   INTEGER NOT NULL REFERENCES players (id) ON DELETE CASCADE,
    noted_on    TEXT NOT NULL CHECK (length(noted_on) = 10),
    text        TEXT NOT NULL CHECK (length(trim(text)) > 0),
    changed_at  TEXT NOT NULL
) STRICT;

CREATE INDEX notes_by_player ON notes (player_id, noted_on);

-- What was agreed to, each thing apart, and by whom; what was withdrawn stays on record with its day.
CREATE TABLE consents (
    id            INTEGER PRIMARY KEY AUTOINCREMENT,
    player_id     INTEGER NOT NULL REFERENCES players (id) ON DELETE CASCADE,
    purpose       TEXT NOT NULL CHECK (purpose IN ('filming', 'teaching', 'sending', 'showing')),
    given_by      TEXT NOT NULL CHECK (length(trim(given_by)) > 0),
    by_guardian   INTEGER NOT NULL CHECK (by_guardian IN (0, 1)),
    given_on      TEXT NOT NULL CHECK (length(given_on) = 10),
    withdrawn_on  TEXT CHECK (withdrawn_on IS NULL OR length(withdrawn_on) = 10)
) STRICT;

CREATE INDEX consents_by_player ON consents (player_id);

INSERT INTO consents (player_id, purpose, given_by, by_guardian, given_on)
SELECT id, 'filming', guardian, 1, substr(guardian_consent_at, 1, 10) FROM players WHERE guardian IS NOT NULL;

-- Where each swing stands, for lists: what the latest analysis and the latest lesson say. Kept by the
-- triggers below; no number is in it.
CREATE TABLE standings (
    swing_id     INTEGER PRIMARY KEY REFERENCES swings (id) ON DELETE CASCADE,
    player_id    INTEGER NOT NULL,
    made_at      TEXT NOT NULL,
    analysis_id  INTEGER,
    title        TEXT,
    lesson_id    INTEGER,
    approved_at  TEXT,
    sent_at      TEXT,
    set_aside_at TEXT
) STRICT;

CREATE INDEX standings_by_player ON standings (player_id, swing_id);
CREATE INDEX standings_to_read ON standings (made_at) WHERE approved_at IS NULL AND set_aside_at IS NULL;
CREATE INDEX standings_to_send ON standings (approved_at) WHERE approved_at IS NOT NULL AND sent_at IS NULL;

INSERT INTO standings
SELECT swings.id, player_id, coalesce(filmed_at, added_at), latest.id,
       json_extract(latest.analysis, '$.priority.title'), given.id, given.approved_at, given.sent_at, NULL
FROM swings
LEFT JOIN analyses AS latest
    ON latest.id = (SELECT max(id) FROM analyses WHERE swing_id = swings.id)
LEFT JOIN lessons AS given
    ON given.id = (SELECT max(lessons.id) FROM lessons JOIN analyses ON analyses.id = analysis_id
                   WHERE swing_id = swings.id);

CREATE TRIGGER swing_stands AFTER INSERT ON swings BEGIN
    INSERT INTO standings (swing_id, player_id, made_at)
    VALUES (new.id, new.player_id, coalesce(new.filmed_at, new.added_at));
END;
CREATE TRIGGER swing_changes AFTER UPDATE OF filmed_at, set_aside_at ON swings BEGIN
    UPDATE standings SET made_at = coalesce(new.filmed_at, new.added_at), set_aside_at = new.set_aside_at
    WHERE swing_id = new.id;
END;
CREATE TRIGGER analysis_stands AFTER INSERT ON analyses BEGIN
    UPDATE standings SET analysis_id = new.id, title = json_extract(new.analysis, '$.priority.title')
    WHERE swing_id = new.swing_id;
END;
CREATE TRIGGER lesson_stands AFTER INSERT ON lessons BEGIN
    UPDATE standings SET lesson_id = new.id, approved_at = new.approved_at, sent_at = new.sent_at
    WHERE swing_id = (SELECT swing_id FROM analyses WHERE id = new.analysis_id);
END;
CREATE TRIGGER lesson_goes_on AFTER UPDATE OF approved_at, sent_at ON lessons BEGIN
    UPDATE standings SET approved_at = new.approved_at, sent_at = new.sent_at WHERE lesson_id = new.id;
END;

-- How often what the follow-up rests on was changed, for each player: what was computed from it is good as
-- long as this stays.
CREATE TABLE follow_changes (
    player_id  INTEGER PRIMARY KEY REFERENCES players (id) ON DELETE CASCADE,
    changes    INTEGER NOT NULL
) STRICT;

INSERT INTO follow_changes SELECT id, 0 FROM players;

CREATE TRIGGER player_followed AFTER INSERT ON players BEGIN
    INSERT INTO follow_changes VALUES (new.id, 0);
END;
CREATE TRIGGER player_renamed AFTER UPDATE OF name ON players WHEN old.name IS NOT new.name BEGIN
    UPDATE follow_changes SET changes = changes + 1 WHERE player_id = new.id;
END;
CREATE TRIGGER swing_followed AFTER UPDATE OF filmed_at ON swings BEGIN
    UPDATE follow_changes SET changes = changes + 1 WHERE player_id = new.player_id;
END;
CREATE TRIGGER analysis_followed AFTER INSERT ON analyses BEGIN
    UPDATE follow_changes SET changes = changes + 1
    WHERE player_id = (SELECT player_id FROM swings WHERE id = new.swing_id);
END;
CREATE TRIGGER lesson_followed AFTER INSERT ON lessons BEGIN
    UPDATE follow_changes SET changes = changes + 1
    WHERE player_id = (SELECT player_id FROM analyses JOIN swings ON swings.id = swing_id
                       WHERE analyses.id = new.analysis_id);
END;
CREATE TRIGGER lesson_approved AFTER UPDATE OF approved_at ON lessons BEGIN
    UPDATE follow_changes SET changes = changes + 1
    WHERE player_id = (SELECT player_id FROM analyses JOIN swings ON swings.id = swing_id
                       WHERE analyses.id = new.analysis_id);
END;
CREATE TRIGGER prescription_followed AFTER INSERT ON prescriptions BEGIN
    UPDATE follow_changes SET changes = changes + 1 WHERE player_id = new.player_id;
END;
CREATE TRIGGER prescription_changed AFTER UPDATE ON prescriptions BEGIN
    UPDATE follow_changes SET changes = changes + 1 WHERE player_id = new.player_id;
END;
CREATE TRIGGER mark_followed AFTER INSERT ON swing_marks BEGIN
    UPDATE follow_changes SET changes = changes + 1
    WHERE player_id = (SELECT player_id FROM swings WHERE id = new.swing_id);
END;

-- Everything that can be searched, in words. A row's key is its kind times 2^40 and the key of what it is of:
-- 1 player, 2 lesson, 3 swing, 4 note, 5 drill, so that one kind is a range.
CREATE VIRTUAL TABLE search USING fts5 (
    title, body, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3'
);
-- What is erased is not to be read in the index either.
INSERT INTO search (search, rank) VALUES ('secure-delete', 1);
-- The words in it, for those that are nearly right.
CREATE VIRTUAL TABLE search_words USING fts5vocab (search, row);

INSERT INTO search (rowid, title, body)
SELECT (1 << 40) + id, name,
       concat_ws(' ', hand, usual_flight, background, bag) FROM players;
INSERT INTO search (rowid, title, body)
SELECT (3 << 40) + swing_id, name,
       concat_ws(' ', 'swing', swing_id, substr(made_at, 1, 10), replace(club, '_', ' '), title)
FROM standings JOIN players ON players.id = standings.player_id JOIN swings ON swings.id = swing_id;
INSERT INTO search (rowid, title, body)
SELECT (2 << 40) + lessons.id, name,
       concat_ws(' ', 'lesson', lessons.id, substr(drafted_at, 1, 10), prescriptions.title,
                 json_extract(analysis, '$.priority.title'))
FROM lessons
JOIN analyses ON analyses.id = analysis_id JOIN swings ON swings.id = swing_id
JOIN players ON players.id = swings.player_id
LEFT JOIN prescriptions ON prescriptions.lesson_id = lessons.id;

CREATE TRIGGER player_found AFTER INSERT ON players BEGIN
    INSERT INTO search (rowid, title, body)
    VALUES ((1 << 40) + new.id, new.name,
            concat_ws(' ', new.hand, new.usual_flight, new.background, new.bag));
END;
CREATE TRIGGER player_found_anew AFTER UPDATE OF name, hand, usual_flight, background, bag ON players BEGIN
    UPDATE search SET title = new.name,
                      body = concat_ws(' ', new.hand, new.usual_flight, new.background, new.bag)
    WHERE rowid = (1 << 40) + new.id;
END;
CREATE TRIGGER found_under_a_new_name AFTER UPDATE OF name ON players WHEN old.name IS NOT new.name BEGIN
    UPDATE search SET title = new.name
    WHERE rowid IN (SELECT (3 << 40) + swing_id FROM standings WHERE player_id = new.id
                    UNION ALL
                    SELECT (2 << 40) + lessons.id FROM lessons JOIN analyses ON analyses.id = analysis_id
                    JOIN swings ON swings.id = swing_id WHERE swings.player_id = new.id
                    UNION ALL
                    SELECT (4 << 40) + id FROM notes WHERE player_id = new.id);
END;
CREATE TRIGGER player_not_found AFTER DELETE ON players BEGIN
    DELETE FROM search WHERE rowid = (1 << 40) + old.id;
END;
CREATE TRIGGER swing_found AFTER INSERT ON standings BEGIN
    INSERT INTO search (rowid, title, body)
    SELECT (3 << 40) + new.swing_id, name, concat_ws(' ', 'swing', new.swing_id, substr(new.made_at, 1, 10))
    FROM players WHERE id = new.player_id;
END;
CREATE TRIGGER swing_found_anew AFTER UPDATE OF title, made_at ON standings BEGIN
    UPDATE search
    SET body = concat_ws(' ', 'swing', new.swing_id, substr(new.made_at, 1, 10),
                         (SELECT replace(club, '_', ' ') FROM swings WHERE id = new.swing_id), new.title)
    WHERE rowid = (3 << 40) + new.swing_id;
END;
CREATE TRIGGER swing_found_by_club AFTER UPDATE OF club ON swings BEGIN
    UPDATE search
    SET body = (SELECT concat_ws(' ', 'swing', swing_id, substr(made_at, 1, 10), replace(new.club, '_', ' '), title)
                FROM standings WHERE swing_id = new.id)
    WHERE rowid = (3 << 40) + new.id;
END;
CREATE TRIGGER swing_not_found AFTER DELETE ON swings BEGIN
    DELETE FROM search WHERE rowid = (3 << 40) + old.id;
END;
CREATE TRIGGER lesson_found AFTER INSERT ON lessons BEGIN
    INSERT INTO search (rowid, title, body)
    SELECT (2 << 40) + new.id, name,
           concat_ws(' ', 'lesson', new.id, substr(new.drafted_at, 1, 10), standings.title)
    FROM standings JOIN players ON players.id = standings.player_id
    WHERE swing_id = (SELECT swing_id FROM analyses WHERE id = new.analysis_id);
END;
CREATE TRIGGER lesson_found_by_drill AFTER INSERT ON prescriptions WHEN new.lesson_id IS NOT NULL BEGIN
    UPDATE search SET body = body || ' ' || new.title WHERE rowid = (2 << 40) + new.lesson_id;
END;
CREATE TRIGGER lesson_not_found AFTER DELETE ON lessons BEGIN
    DELETE FROM search WHERE rowid = (2 << 40) + old.id;
END;
CREATE TRIGGER note_found AFTER INSERT ON notes BEGIN
    INSERT INTO search (rowid, title, body)
    SELECT (4 << 40) + new.id, name, new.noted_on || ' ' || new.text FROM players WHERE id = new.player_id;
END;
CREATE TRIGGER note_found_anew AFTER UPDATE OF noted_on, text ON notes BEGIN
    UPDATE search SET body = new.noted_on || ' ' || new.text WHERE rowid = (4 << 40) + new.id;
END;
CREATE TRIGGER note_not_found AFTER DELETE ON notes BEGIN
    DELETE FROM search WHERE rowid = (4 << 40) + old.id;
END;
