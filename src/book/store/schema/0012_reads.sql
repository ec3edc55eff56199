-- Who looked at what, where people sign in: apart from history, because it is not about a change, and kept
-- for a set time only. Numbers of jobs, never what was read.
CREATE TABLE reads (
    id     INTEGER PRIMARY KEY,
    at_s   INTEGER NOT NULL,
    by     TEXT    NOT NULL,
    what   TEXT    NOT NULL,
    number TEXT
) STRICT;

CREATE INDEX reads_number ON reads (number, id);
CREATE INDEX reads_at ON reads (at_s);
