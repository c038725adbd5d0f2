-- A notice has a name of its own, so that one that was decided upon twice (a crash between deciding and writing down) is sent once.
ALTER TABLE notice ADD COLUMN name TEXT;
CREATE UNIQUE INDEX notice_name ON notice (channel, name) WHERE name IS NOT NULL;

-- The last ones that were sent.
CREATE TABLE notice_sent (
  channel TEXT NOT NULL,
  name TEXT NOT NULL,
  at INTEGER NOT NULL,
  PRIMARY KEY (channel, name)
) STRICT, WITHOUT ROWID;

-- Browsers that asked to be told.
CREATE TABLE push_device (
  endpoint TEXT PRIMARY KEY,
  public_key TEXT NOT NULL,         -- base64url
  secret TEXT NOT NULL,             -- base64url
  note TEXT,
  added_at INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

ALTER TABLE calibration ADD COLUMN uncertainty REAL;      -- K, of the offset, 95 %
ALTER TABLE calibration ADD COLUMN humidity REAL;         -- percentage points, added to the humidity
