-- What people set up and wrote down. Times are ms since 1970; a missing end is "still so".

ALTER TABLE probe ADD COLUMN hand_read INTEGER NOT NULL DEFAULT 0;

CREATE TABLE spot (
  id TEXT PRIMARY KEY,
  kind TEXT NOT NULL,
  light TEXT NOT NULL,
  room INTEGER NOT NULL CHECK (room >= 1)
) STRICT, WITHOUT ROWID;

CREATE TABLE station (
  probe INTEGER NOT NULL REFERENCES probe,
  start INTEGER NOT NULL,
  spot TEXT NOT NULL REFERENCES spot,
  end INTEGER CHECK (end > start),
  PRIMARY KEY (probe, start)
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX station_open ON station (probe) WHERE end IS NULL;
CREATE INDEX station_spot ON station (spot);

CREATE TABLE calibration (
  probe INTEGER NOT NULL REFERENCES probe,
  start INTEGER NOT NULL,
  offset REAL NOT NULL,             -- K, added to the temperature
  dry REAL, saturated REAL,         -- raw moisture
  note TEXT,
  PRIMARY KEY (probe, start)
) STRICT, WITHOUT ROWID;

CREATE TABLE crop (
  id TEXT PRIMARY KEY,
  profile TEXT NOT NULL             -- JSON, with sources
) STRICT, WITHOUT ROWID;

CREATE TABLE lot (
  id TEXT PRIMARY KEY,
  crop TEXT NOT NULL,
  variety TEXT,
  origin TEXT NOT NULL,
  year INTEGER,
  year_kind TEXT NOT NULL,
  counted INTEGER NOT NULL CHECK (counted >= 0),
  counted_at INTEGER NOT NULL,
  price TEXT,                       -- a decimal number, as text so that it stays exact
  bought INTEGER CHECK (bought >= 1),
  storage TEXT NOT NULL,
  treated INTEGER NOT NULL,
  parent TEXT REFERENCES lot,
  stated_share REAL CHECK (stated_share BETWEEN 0 AND 1),
  note TEXT
) STRICT, WITHOUT ROWID;

CREATE TABLE batch (
  id TEXT PRIMARY KEY,
  crop TEXT NOT NULL,
  lot TEXT REFERENCES lot,
  method TEXT NOT NULL,
  sown_at INTEGER NOT NULL,
  seeds INTEGER NOT NULL CHECK (seeds >= 1),
  containers INTEGER NOT NULL CHECK (containers >= 1),
  is_test INTEGER NOT NULL,
  treatment TEXT,
  ended_at INTEGER CHECK (ended_at >= sown_at)
) STRICT, WITHOUT ROWID;
CREATE INDEX batch_lot ON batch (lot);

CREATE TABLE lot_test (
  number INTEGER PRIMARY KEY,
  lot TEXT NOT NULL REFERENCES lot ON DELETE CASCADE,
  started_at INTEGER NOT NULL,
  called_at INTEGER CHECK (called_at >= started_at),
  seeds INTEGER NOT NULL CHECK (seeds >= 1),
  good INTEGER NOT NULL CHECK (good BETWEEN 0 AND seeds),
  fair INTEGER NOT NULL,
  batch TEXT REFERENCES batch ON DELETE SET NULL,
  note TEXT
) STRICT;
CREATE INDEX lot_test_lot ON lot_test (lot);

CREATE TABLE stay (
  batch TEXT NOT NULL REFERENCES batch ON DELETE CASCADE,
  start INTEGER NOT NULL,
  spot TEXT NOT NULL REFERENCES spot,
  end INTEGER CHECK (end > start),
  PRIMARY KEY (batch, start)
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX stay_open ON stay (batch) WHERE end IS NULL;
CREATE INDEX stay_spot ON stay (spot);

CREATE TABLE look (
  batch TEXT NOT NULL REFERENCES batch ON DELETE CASCADE,
  at INTEGER NOT NULL,
  up INTEGER NOT NULL CHECK (up >= 0),
  note TEXT,
  PRIMARY KEY (batch, at)
) STRICT, WITHOUT ROWID;

CREATE TABLE stage (
  number INTEGER PRIMARY KEY,
  batch TEXT NOT NULL REFERENCES batch ON DELETE CASCADE,
  kind TEXT NOT NULL,
  at INTEGER NOT NULL,
  plants INTEGER CHECK (plants >= 1),
  note TEXT
) STRICT;
CREATE INDEX stage_batch ON stage (batch, at);

CREATE TABLE loss (
  number INTEGER PRIMARY KEY,
  batch TEXT NOT NULL REFERENCES batch ON DELETE CASCADE,
  at INTEGER NOT NULL,
  plants INTEGER NOT NULL CHECK (plants >= 1),
  cause TEXT NOT NULL,
  note TEXT
) STRICT;
CREATE INDEX loss_batch ON loss (batch, at);

CREATE TABLE wetting (
  batch TEXT NOT NULL REFERENCES batch ON DELETE CASCADE,
  at INTEGER NOT NULL,
  PRIMARY KEY (batch, at)
) STRICT, WITHOUT ROWID;

CREATE TABLE alert (
  number INTEGER PRIMARY KEY AUTOINCREMENT,
  kind TEXT NOT NULL,
  subject_kind TEXT NOT NULL,
  subject TEXT NOT NULL,
  severity TEXT NOT NULL,
  since INTEGER NOT NULL,
  opened_at INTEGER NOT NULL,
  closed_at INTEGER,
  close_reason TEXT,
  seen_at INTEGER, seen_by TEXT,
  muted_until INTEGER,
  evidence TEXT NOT NULL            -- JSON
) STRICT;
CREATE UNIQUE INDEX alert_open ON alert (kind, subject_kind, subject) WHERE closed_at IS NULL;
CREATE INDEX alert_opened ON alert (opened_at);

CREATE TABLE notice (
  number INTEGER PRIMARY KEY AUTOINCREMENT,
  channel TEXT NOT NULL,
  payload TEXT NOT NULL,
  created_at INTEGER NOT NULL,
  attempts INTEGER NOT NULL DEFAULT 0,
  next_at INTEGER,                  -- null once it is dead
  error TEXT
) STRICT;
CREATE INDEX notice_next ON notice (next_at) WHERE next_at IS NOT NULL;

CREATE TABLE outage (
  number INTEGER PRIMARY KEY,
  start INTEGER NOT NULL,
  end INTEGER CHECK (end > start),
  cause TEXT NOT NULL
) STRICT;

CREATE TABLE setting (
  name TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;
