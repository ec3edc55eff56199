-- What a job of an older book was when it was brought to the version from which history binds more than
-- the content of a job: number, revision, questions, acceptances and gates as well. Never changed.
CREATE TABLE job_as_found (
    job_id INTEGER PRIMARY KEY,
    state  BLOB NOT NULL
) STRICT;

CREATE TRIGGER job_as_found_is_not_changed BEFORE UPDATE ON job_as_found
BEGIN SELECT RAISE (ABORT, 'history is not changed'); END;
CREATE TRIGGER job_as_found_is_not_deleted BEFORE DELETE ON job_as_found
BEGIN SELECT RAISE (ABORT, 'history is not changed'); END;
