-- Files that go with a lesson beside its page, in the media folder of its swing.
CREATE TABLE lesson_files (
    lesson_id  INTEGER NOT NULL REFERENCES lessons (id) ON DELETE CASCADE,
    kind       TEXT NOT NULL CHECK (kind IN ('paper', 'film')),
    path       TEXT NOT NULL,
    sha256     TEXT NOT NULL CHECK (length(sha256) = 64),
    PRIMARY KEY (lesson_id, kind)
) STRICT;
