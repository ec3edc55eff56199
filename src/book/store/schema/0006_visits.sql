-- A visit that waits shows its day on the worklist: with what came of it in the index as well, the
-- worklist is still read from there alone.
DROP INDEX job_open;
CREATE INDEX job_open ON job (stage, due_on, id, number, past, wearer, born, promised_on, collection_at, held, held_on,
    content ->> '$.visit.outcome', content ->> '$.visit.review_on')
    WHERE past = 0 AND stage IN ('measured', 'ordered', 'verified');
