-- Who has a frame or lens of a maker, a product or a lot, for a recall: one row for the frame of a job
-- and one for each lens, in the spelling that is compared; empty where nothing is recorded.
CREATE TABLE made (
    job_id  INTEGER NOT NULL REFERENCES job (id),
    what    TEXT    NOT NULL CHECK (what IN ('frame', 'right lens', 'left lens')),
    maker   TEXT    NOT NULL,
    product TEXT    NOT NULL,
    lot     TEXT    NOT NULL,
    PRIMARY KEY (job_id, what)
) STRICT, WITHOUT ROWID;

CREATE INDEX made_maker ON made (maker, product) WHERE maker <> '';
CREATE INDEX made_product ON made (product) WHERE product <> '';
CREATE INDEX made_lot ON made (lot) WHERE lot <> '';
