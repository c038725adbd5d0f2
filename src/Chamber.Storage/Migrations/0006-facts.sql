-- What people set up, did, saw and took back: dated facts. A row is added, and never changed or taken away.
-- The tables of spots, probes, lots, batches and so on hold what the facts come to.
CREATE TABLE fact (
  number INTEGER PRIMARY KEY,
  act INTEGER NOT NULL,            -- the first of those that were written down in one act
  at INTEGER NOT NULL,             -- when it was true, ms since 1970
  written INTEGER NOT NULL,        -- when it was written down, ms since 1970
  who TEXT NOT NULL,               -- a person or program; empty where nobody said
  way TEXT NOT NULL,
  kind TEXT NOT NULL,
  version INTEGER NOT NULL,        -- of the form of the body
  body TEXT NOT NULL CHECK (json_valid(body))
) STRICT;
CREATE INDEX fact_written ON fact (written);
CREATE TRIGGER fact_stays BEFORE UPDATE ON fact BEGIN SELECT RAISE(ABORT, 'a fact is never changed'); END;
CREATE TRIGGER fact_is_kept BEFORE DELETE ON fact BEGIN SELECT RAISE(ABORT, 'a fact is never taken away'); END;

-- Those that cannot be true beside the ones before them, and count for nothing.
CREATE TABLE fact_left_out (
  number INTEGER PRIMARY KEY REFERENCES fact,
  why TEXT NOT NULL
) STRICT;

-- Readings that are not to be used: kept, and passed over.
CREATE TABLE set_aside (
  probe INTEGER NOT NULL REFERENCES probe,
  start INTEGER NOT NULL,
  end INTEGER NOT NULL CHECK (end > start),
  why TEXT,
  PRIMARY KEY (probe, start, end)
) STRICT, WITHOUT ROWID;

-- Former names of probes: what still arrives under them is theirs.
CREATE TABLE former_probe (
  id TEXT PRIMARY KEY,
  probe INTEGER NOT NULL REFERENCES probe
) STRICT, WITHOUT ROWID;

-- 1 for what a person chose: a fact. The rest is what the program remembers for itself.
ALTER TABLE setting ADD COLUMN chosen INTEGER NOT NULL DEFAULT 0;
