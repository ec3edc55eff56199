-- The day's handovers are asked for every time the collections are shown: without these, each time
-- the whole book was read.
CREATE INDEX job_given ON job (content ->> '$.handover.given_on') WHERE stage = 'collected';
CREATE INDEX job_collection ON job (substr(collection_at, 1, 10)) WHERE stage = 'collected';
CREATE INDEX job_promised ON job (promised_on) WHERE stage = 'collected';
CREATE INDEX job_due ON job (due_on) WHERE stage = 'collected';
