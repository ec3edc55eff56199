-- What somebody types is theirs: two people may type into one field, each at a screen of their own.
CREATE TABLE draft_of_person (
    job_id INTEGER NOT NULL REFERENCES job (id),
    field  TEXT    NOT NULL,
    by     TEXT    NOT NULL,
    text   TEXT    NOT NULL,
    PRIMARY KEY (job_id, field, by)
) STRICT;
INSERT INTO draft_of_person (job_id, field, by, text) SELECT job_id, field, '', text FROM draft;
DROP TABLE draft;
ALTER TABLE draft_of_person RENAME TO draft;
