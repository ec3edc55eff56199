-- The wait after wrong attempts, in seconds since 1970 in UTC: a local time ended with the zone. With it
-- how many there were on a day (days since 1970, UTC), and since when, for their owner.
ALTER TABLE credential ADD COLUMN waits_until_s INTEGER;
ALTER TABLE credential ADD COLUMN failed_since_s INTEGER;
ALTER TABLE credential ADD COLUMN failed_day INTEGER NOT NULL DEFAULT 0;
ALTER TABLE credential ADD COLUMN failed_on_day INTEGER NOT NULL DEFAULT 0;
UPDATE credential SET not_before = NULL;
