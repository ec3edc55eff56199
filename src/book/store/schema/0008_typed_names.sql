-- Names that wait for the confirmation of their owner are asked for at every sign-in: only the few jobs
-- that have one are in the index. The key is written with its quotes, which no text of a job can hold
-- without a backslash.
CREATE INDEX job_typed_names ON job (number) WHERE instr(content, '"typed_by":') > 0;
