-- How the professional says a swing was made, and to which day's session it belongs (YYYY-MM-DD).
CREATE TABLE swing_marks (
    swing_id    INTEGER PRIMARY KEY REFERENCES swings (id) ON DELETE CASCADE,
    occasion    TEXT CHECK (occasion IN ('practice', 'retention', 'transfer')),
    session_on  TEXT CHECK (session_on IS NULL OR length(session_on) = 10)
) STRICT;

-- What was prescribed. With a lesson it counts when that is approved; without one it was put on record by
-- hand and counts at once. Measure and moments are words of the JSON contract; null where no camera shows it.
CREATE TABLE prescriptions (
    id            INTEGER PRIMARY KEY AUTOINCREMENT,
    player_id     INTEGER NOT NULL REFERENCES players (id) ON DELETE CASCADE,
    lesson_id     INTEGER UNIQUE REFERENCES lessons (id) ON DELETE CASCADE,
    drill         TEXT NOT NULL,
    title         TEXT NOT NULL,
    measure       TEXT,
    moment        TEXT,
    against       TEXT,
    goal          REAL,
    start         REAL,
    given_on      TEXT CHECK (given_on IS NULL OR length(given_on) = 10),
    next_in_days  INTEGER CHECK (next_in_days > 0),
    ended_on      TEXT CHECK (ended_on IS NULL OR length(ended_on) = 10),
    CHECK (lesson_id IS NOT NULL OR given_on IS NOT NULL),
    CHECK ((measure IS NULL) = (goal IS NULL)),
    CHECK (measure IS NULL OR moment IS NOT NULL)
) STRICT;

CREATE INDEX prescriptions_by_player ON prescriptions (player_id);

-- Lessons kept before this have theirs in their analysis.
INSERT INTO prescriptions (player_id, lesson_id, drill, title, measure, moment, against, goal, start)
SELECT swings.player_id,
       lessons.id,
       json_extract(analysis, '$.prescription.drill'),
       coalesce((SELECT json_extract(drill.value, '$.title')
                 FROM json_each(analysis, '$.drills') AS drill
                 WHERE json_extract(drill.value, '$.key') = json_extract(analysis, '$.prescription.drill')),
                json_extract(analysis, '$.prescription.drill')),
       CASE WHEN json_extract(analysis, '$.prescription.reach') IS NULL THEN NULL
            ELSE json_extract(analysis, '$.prescription.measure') END,
       json_extract(analysis, '$.prescription.moment'),
       json_extract(analysis, '$.prescription.against'),
       CASE WHEN json_extract(analysis, '$.prescription.measure') IS NULL THEN NULL
            ELSE json_extract(analysis, '$.prescription.reach') END,
       (SELECT json_extract(measure.value, '$.value')
        FROM json_each(analysis, '$.measures') AS measure
        WHERE json_extract(measure.value, '$.name') = json_extract(analysis, '$.prescription.measure')
          AND json_extract(measure.value, '$.moment') = json_extract(analysis, '$.prescription.moment')
          AND json_extract(measure.value, '$.against') IS json_extract(analysis, '$.prescription.against')
        LIMIT 1)
FROM lessons
JOIN analyses ON analyses.id = lessons.analysis_id
JOIN swings ON swings.id = analyses.swing_id
WHERE json_extract(analysis, '$.prescription.drill') IS NOT NULL;
