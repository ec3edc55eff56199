-- History as a chain: each link is a hash over the link before it and over this row, the content
-- by its own salted hash, so that content can be erased for good while the chain stays whole.
CREATE TABLE history (
    id      INTEGER PRIMARY KEY,
    job_id  INTEGER,
    at      TEXT NOT NULL,
    by      TEXT,
    what    TEXT NOT NULL,
    content BLOB NOT NULL,
    state   BLOB,
    link    BLOB NOT NULL
) STRICT;

CREATE INDEX history_job ON history (job_id, id);

CREATE TABLE history_detail (
    id     INTEGER PRIMARY KEY REFERENCES history (id),
    salt   BLOB NOT NULL,
    detail TEXT NOT NULL
) STRICT;

-- Jobs that are being erased, for the length of the transaction that erases them.
CREATE TABLE erasing (
    job_id INTEGER PRIMARY KEY
) STRICT;

CREATE TRIGGER history_is_not_changed BEFORE UPDATE ON history
BEGIN SELECT RAISE (ABORT, 'history is not changed'); END;
CREATE TRIGGER history_is_not_deleted BEFORE DELETE ON history
BEGIN SELECT RAISE (ABORT, 'history is not changed'); END;
CREATE TRIGGER history_detail_is_not_changed BEFORE UPDATE ON history_detail
BEGIN SELECT RAISE (ABORT, 'history is not changed'); END;
CREATE TRIGGER history_detail_is_only_erased BEFORE DELETE ON history_detail
WHEN (SELECT job_id FROM history WHERE id = old.id) IS NULL
     OR (SELECT job_id FROM history WHERE id = old.id) NOT IN (SELECT job_id FROM erasing)
BEGIN SELECT RAISE (ABORT, 'history is not changed'); END;

DROP TRIGGER acceptance_is_history_delete;
CREATE TRIGGER acceptance_is_only_erased BEFORE DELETE ON acceptance
WHEN old.job_id NOT IN (SELECT job_id FROM erasing)
BEGIN SELECT RAISE (ABORT, 'acceptances are not changed'); END;

CREATE TABLE credential (
    name       TEXT PRIMARY KEY COLLATE NOCASE REFERENCES staff (name),
    secret     TEXT    NOT NULL,
    failures   INTEGER NOT NULL DEFAULT 0,
    not_before TEXT
) STRICT;
