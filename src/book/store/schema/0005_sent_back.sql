-- What a laboratory's pairs were sent back for in the last months is asked for with every parcel:
-- without this, each time the whole history was read.
CREATE INDEX history_sent_back ON history (at) WHERE what = 'sent back';
