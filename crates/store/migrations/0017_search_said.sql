-- The search in every language of the studio: a column each, named after its tag. What is kept in English words or keys
-- (priorities, drills, clubs, flights) is said by a table of words, which the studio offers when it opens.

-- A word or sentence as it is kept, and as it is read in a language.
CREATE TABLE search_said (
    language  TEXT NOT NULL,
    written   TEXT NOT NULL,
    words     TEXT NOT NULL,
    PRIMARY KEY (language, written)
) STRICT, WITHOUT ROWID;

-- What a lesson is found by: to read it from the analyses takes long.
CREATE TABLE search_lessons (
    lesson_id   INTEGER PRIMARY KEY REFERENCES lessons (id) ON DELETE CASCADE,
    swing_id    INTEGER NOT NULL,
    drafted_at  TEXT NOT NULL,
    title       TEXT,
    drill       TEXT
) STRICT;

INSERT INTO search_lessons
SELECT lessons.id, swing_id, drafted_at, json_extract(analysis, '$.priority.title'), prescriptions.title
FROM lessons
JOIN analyses ON analyses.id = analysis_id
LEFT JOIN prescriptions ON prescriptions.lesson_id = lessons.id;

DROP TABLE search_words;
DROP TABLE search;
CREATE VIRTUAL TABLE search USING fts5 (
    title, en, de, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3'
);
-- What is erased is not to be read in the index either.
INSERT INTO search (search, rank) VALUES ('secure-delete', 1);
CREATE VIRTUAL TABLE search_words USING fts5vocab (search, row);

-- Each language with the form of its days.
CREATE VIEW search_languages AS
SELECT 'en' AS language, '%Y-%m-%d' AS day UNION ALL SELECT 'de', '%d.%m.%Y';

-- What is read of each, by language; what the table of words does not have is read as it is kept.
CREATE VIEW search_of_players AS
SELECT id, name, spoken.language,
       concat_ws(' · ',
                 coalesce((SELECT words FROM search_said AS said WHERE said.language = spoken.language AND written = hand),
                          hand),
                 -- Several flights are a list.
                 coalesce((SELECT group_concat(words, ', ') FROM search_said AS said WHERE said.language = spoken.language
                           AND instr(', ' || usual_flight || ', ', ', ' || written || ', ')),
                          usual_flight),
                 background, bag) AS body
FROM players, search_languages AS spoken;

CREATE VIEW search_of_lessons AS
SELECT lesson_id AS id, name, spoken.language,
       concat_ws(' · ',
                 coalesce((SELECT words FROM search_said AS said WHERE said.language = spoken.language AND written = 'lesson'),
                          'lesson') || ' ' || lesson_id,
                 strftime(day, drafted_at),
                 coalesce((SELECT words FROM search_said AS said WHERE said.language = spoken.language AND written = drill),
                          drill),
                 coalesce((SELECT words FROM search_said AS said WHERE said.language = spoken.language AND written = title),
                          title)) AS body
FROM search_lessons
JOIN swings ON swings.id = swing_id JOIN players ON players.id = player_id, search_languages AS spoken;

CREATE VIEW search_of_swings AS
SELECT swing_id AS id, name, spoken.language,
       concat_ws(' · ',
                 coalesce((SELECT words FROM search_said AS said WHERE said.language = spoken.language AND written = 'swing'),
                          'swing') || ' ' || swing_id,
                 strftime(day, made_at),
                 coalesce((SELECT words FROM search_said AS said WHERE said.language = spoken.language AND written = club),
                          replace(club, '_', ' ')),
                 coalesce((SELECT words FROM search_said AS said WHERE said.language = spoken.language AND written = title),
                          title)) AS body
FROM standings
JOIN swings ON swings.id = swing_id JOIN players ON players.id = standings.player_id, search_languages AS spoken;

-- What a person wrote is the same in every language.
CREATE VIEW search_of_notes AS
SELECT notes.id, name, spoken.language,
       concat_ws(' · ',
                 strftime(day, noted_on),
                 text) AS body
FROM notes JOIN players ON players.id = player_id, search_languages AS spoken;

-- Nothing is in it: what is put in is looked at again, by kind and key.
CREATE VIEW search_again AS SELECT 0 AS kind, 0 AS id WHERE 0;
CREATE TRIGGER player_read_again INSTEAD OF INSERT ON search_again WHEN new.kind = 1 BEGIN
    INSERT OR REPLACE INTO search (rowid, title, en, de)
    SELECT (1 << 40) + id, name, max(body) FILTER (WHERE language = 'en'), max(body) FILTER (WHERE language = 'de')
    FROM search_of_players WHERE id = new.id GROUP BY id;
END;
CREATE TRIGGER lesson_read_again INSTEAD OF INSERT ON search_again WHEN new.kind = 2 BEGIN
    INSERT OR REPLACE INTO search (rowid, title, en, de)
    SELECT (2 << 40) + id, name, max(body) FILTER (WHERE language = 'en'), max(body) FILTER (WHERE language = 'de')
    FROM search_of_lessons WHERE id = new.id GROUP BY id;
END;
CREATE TRIGGER swing_read_again INSTEAD OF INSERT ON search_again WHEN new.kind = 3 BEGIN
    INSERT OR REPLACE INTO search (rowid, title, en, de)
    SELECT (3 << 40) + id, name, max(body) FILTER (WHERE language = 'en'), max(body) FILTER (WHERE language = 'de')
    FROM search_of_swings WHERE id = new.id GROUP BY id;
END;
CREATE TRIGGER note_read_again INSTEAD OF INSERT ON search_again WHEN new.kind = 4 BEGIN
    INSERT OR REPLACE INTO search (rowid, title, en, de)
    SELECT (4 << 40) + id, name, max(body) FILTER (WHERE language = 'en'), max(body) FILTER (WHERE language = 'de')
    FROM search_of_notes WHERE id = new.id GROUP BY id;
END;

INSERT INTO search_again SELECT 1, id FROM players;
INSERT INTO search_again SELECT 2, lesson_id FROM search_lessons;
INSERT INTO search_again SELECT 3, swing_id FROM standings;
INSERT INTO search_again SELECT 4, id FROM notes;

DROP TRIGGER player_found;
DROP TRIGGER player_found_anew;
DROP TRIGGER found_under_a_new_name;
DROP TRIGGER swing_found;
DROP TRIGGER swing_found_anew;
DROP TRIGGER swing_found_by_club;
DROP TRIGGER lesson_found;
DROP TRIGGER lesson_found_by_drill;
DROP TRIGGER note_found;
DROP TRIGGER note_found_anew;

CREATE TRIGGER player_found AFTER INSERT ON players BEGIN
    INSERT INTO search_again VALUES (1, new.id);
END;
CREATE TRIGGER player_found_anew AFTER UPDATE OF name, hand, usual_flight, background, bag ON players BEGIN
    INSERT INTO search_again VALUES (1, new.id);
END;
CREATE TRIGGER found_under_a_new_name AFTER UPDATE OF name ON players WHEN old.name IS NOT new.name BEGIN
    INSERT INTO search_again
    SELECT 3, swing_id FROM standings WHERE player_id = new.id
    UNION ALL
    SELECT 2, lesson_id FROM search_lessons JOIN swings ON swings.id = swing_id WHERE player_id = new.id
    UNION ALL
    SELECT 4, id FROM notes WHERE player_id = new.id;
END;
CREATE TRIGGER swing_found AFTER INSERT ON standings BEGIN
    INSERT INTO search_again VALUES (3, new.swing_id);
END;
CREATE TRIGGER swing_found_anew AFTER UPDATE OF title, made_at ON standings BEGIN
    INSERT INTO search_again VALUES (3, new.swing_id);
END;
CREATE TRIGGER swing_found_by_club AFTER UPDATE OF club ON swings BEGIN
    INSERT INTO search_again VALUES (3, new.id);
END;
CREATE TRIGGER lesson_found AFTER INSERT ON lessons BEGIN
    INSERT INTO search_lessons (lesson_id, swing_id, drafted_at, title)
    SELECT new.id, swing_id, new.drafted_at, json_extract(analysis, '$.priority.title')
    FROM analyses WHERE id = new.analysis_id;
    INSERT INTO search_again VALUES (2, new.id);
END;
CREATE TRIGGER lesson_found_by_drill AFTER INSERT ON prescriptions WHEN new.lesson_id IS NOT NULL BEGIN
    UPDATE search_lessons SET drill = new.title WHERE lesson_id = new.lesson_id;
    INSERT INTO search_again VALUES (2, new.lesson_id);
END;
CREATE TRIGGER note_found AFTER INSERT ON notes BEGIN
    INSERT INTO search_again VALUES (4, new.id);
END;
CREATE TRIGGER note_found_anew AFTER UPDATE OF noted_on, text ON notes BEGIN
    INSERT INTO search_again VALUES (4, new.id);
END;
