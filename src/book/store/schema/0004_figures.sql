-- Figures of a period are asked for by the time of what happened. Only the events that are counted
-- are in the index: what is recorded while a form is filled, most of a book's history, is not.
CREATE INDEX history_counted ON history (at, job_id)
    WHERE what IN ('moved', 'sent back', 'accepted', 'recheck begun');
