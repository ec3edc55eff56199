CREATE TABLE job (
    id            INTEGER PRIMARY KEY,
    number        TEXT    NOT NULL UNIQUE,
    stage         TEXT    NOT NULL CHECK (stage IN ('measured', 'ordered', 'verified', 'collected', 'cancelled')),
    past          INTEGER NOT NULL CHECK (past IN (0, 1)),
    revision      INTEGER NOT NULL CHECK (revision > 0),
    wearer        TEXT    NOT NULL,
    wearer_key    TEXT    NOT NULL,
    born          TEXT,
    phone_tail    TEXT    NOT NULL,
    due_on        TEXT,
    promised_on   TEXT,
    collection_at TEXT,
    held          TEXT    NOT NULL,
    held_on       TEXT    NOT NULL,
    question      TEXT,
    content       TEXT    NOT NULL
) STRICT;

CREATE INDEX job_open ON job (stage, due_on, id) WHERE past = 0 AND stage IN ('measured', 'ordered', 'verified');
CREATE INDEX job_wearer ON job (wearer_key, born);
CREATE INDEX job_phone ON job (phone_tail);

CREATE TABLE event (
    id     INTEGER PRIMARY KEY,
    job_id INTEGER NOT NULL REFERENCES job (id),
    at     TEXT    NOT NULL,
    by     TEXT,
    what   TEXT    NOT NULL,
    detail TEXT    NOT NULL
) STRICT;

CREATE INDEX event_job ON event (job_id, id);

CREATE TRIGGER event_is_history_update BEFORE UPDATE ON event
BEGIN SELECT RAISE (ABORT, 'history is not changed'); END;
CREATE TRIGGER event_is_history_delete BEFORE DELETE ON event
BEGIN SELECT RAISE (ABORT, 'history is not changed'); END;

CREATE TABLE acceptance (
    id      INTEGER PRIMARY KEY,
    job_id  INTEGER NOT NULL REFERENCES job (id),
    content TEXT    NOT NULL
) STRICT;

CREATE INDEX acceptance_job ON acceptance (job_id, id);

CREATE TRIGGER acceptance_is_history_update BEFORE UPDATE ON acceptance
BEGIN SELECT RAISE (ABORT, 'acceptances are not changed'); END;
CREATE TRIGGER acceptance_is_history_delete BEFORE DELETE ON acceptance
BEGIN SELECT RAISE (ABORT, 'acceptances are not changed'); END;

CREATE TABLE passed (
    id      INTEGER PRIMARY KEY,
    job_id  INTEGER NOT NULL REFERENCES job (id),
    gate    TEXT    NOT NULL,
    stands  INTEGER NOT NULL CHECK (stands IN (0, 1)),
    content TEXT    NOT NULL
) STRICT;

CREATE INDEX passed_job ON passed (job_id, id);

CREATE TABLE staff (
    name    TEXT PRIMARY KEY COLLATE NOCASE,
    content TEXT NOT NULL
) STRICT;

CREATE TABLE setting (
    name    TEXT PRIMARY KEY,
    content TEXT NOT NULL
) STRICT;

CREATE TABLE draft (
    job_id INTEGER NOT NULL REFERENCES job (id),
    field  TEXT    NOT NULL,
    text   TEXT    NOT NULL,
    PRIMARY KEY (job_id, field)
) STRICT;

CREATE VIRTUAL TABLE job_search USING fts5 (
    number, wearer, born, phone, frame,
    tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3'
);

-- What is taken out of the index is taken out of the file: a name that was corrected does not linger.
INSERT INTO job_search (job_search, rank) VALUES ('secure-delete', 1);
