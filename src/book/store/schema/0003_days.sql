-- The day's handovers are asked for every time the collections are shown: without these, each time
-- the whole book was read.
CREATE INDEX job_given ON job (content ->> '$.handover.given_on') WHERE stage = 'collected';
CREATE INDEX job_collection ON job (substr(collection_at, 1, 10)) WHERE stage = 'collected';
CREATE INDEX job_promised ON job (promised_on) WHERE stage = 'collected';
CREATE INDEX job_due ON job (due_on) WHERE stage = 'collected';

-- The worklist is read at every start: with all that its lines show in the index, a few pages hold
-- it, wherever in a large book the jobs themselves lie.
DROP INDEX job_open;
CREATE INDEX job_open ON job (stage, due_on, id, number, past, wearer, born, promised_on, collection_at, held, held_on)
    WHERE past = 0 AND stage IN ('measured', 'ordered', 'verified');
