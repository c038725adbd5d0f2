-- Readings, what was refused, and what is known of a probe.

CREATE TABLE probe (
  key INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  measurand TEXT,                  -- null: it has spoken, and nobody has set it up
  max_gap_ms INTEGER CHECK (max_gap_ms > 0),
  note TEXT
) STRICT;

-- Clustered by probe and time, so that a stretch of one probe is one run of pages.
-- A quantity is a whole number of thousandths where that says it exactly, else a real number.
CREATE TABLE reading (
  probe INTEGER NOT NULL,
  at INTEGER NOT NULL,             -- measured at, ms since 1970
  received INTEGER NOT NULL,       -- ms after at
  clock INTEGER NOT NULL,          -- 0 the payload's, 1 arrival
  temperature ANY,                 -- degrees C
  humidity ANY,                    -- percent
  moisture ANY,                    -- the probe's own scale
  battery ANY,                     -- percent
  PRIMARY KEY (probe, at)
) STRICT, WITHOUT ROWID;

-- What stands for readings that were rolled up: one level stretch from its first reading to its last.
CREATE TABLE rolled (
  probe INTEGER NOT NULL,
  at INTEGER NOT NULL,             -- its first reading
  span INTEGER NOT NULL,           -- ms from its first reading to its last
  count INTEGER NOT NULL,
  temperature ANY, low ANY, high ANY,
  humidity ANY, moisture ANY, battery ANY,
  PRIMARY KEY (probe, at)
) STRICT, WITHOUT ROWID;

CREATE TABLE rolled_to (
  probe INTEGER PRIMARY KEY,
  at INTEGER NOT NULL              -- everything older has been looked at
) STRICT;

-- Stretches that changed behind the newest reading of their probe: late readings and filled ones.
CREATE TABLE late (
  number INTEGER PRIMARY KEY AUTOINCREMENT,
  probe INTEGER NOT NULL,
  first INTEGER NOT NULL,
  last INTEGER NOT NULL
) STRICT;

CREATE TABLE last_known (
  probe INTEGER PRIMARY KEY,
  received INTEGER NOT NULL,       -- ms since 1970
  temperature REAL, humidity REAL, moisture REAL, battery REAL
) STRICT;

CREATE TABLE refusal (
  number INTEGER PRIMARY KEY AUTOINCREMENT,
  received INTEGER NOT NULL,
  source TEXT NOT NULL,
  probe TEXT,
  quantity TEXT,
  reason TEXT NOT NULL,
  raw TEXT NOT NULL,
  mend TEXT NOT NULL
) STRICT;

CREATE TABLE refusal_count (
  probe TEXT NOT NULL,             -- empty where it cannot be told
  reason TEXT NOT NULL,
  count INTEGER NOT NULL,
  last INTEGER NOT NULL,
  PRIMARY KEY (probe, reason)
) STRICT, WITHOUT ROWID;

-- For people with a database browser.
CREATE VIEW readings AS
SELECT probe.id AS probe,
  strftime('%Y-%m-%dT%H:%M:%fZ', reading.at / 1000.0, 'unixepoch') AS measured_at,
  CASE typeof(temperature) WHEN 'integer' THEN temperature / 1000.0 ELSE temperature END AS temperature,
  CASE typeof(humidity) WHEN 'integer' THEN humidity / 1000.0 ELSE humidity END AS humidity,
  CASE typeof(moisture) WHEN 'integer' THEN moisture / 1000.0 ELSE moisture END AS moisture,
  CASE typeof(battery) WHEN 'integer' THEN battery / 1000.0 ELSE battery END AS battery
FROM reading JOIN probe ON probe.key = reading.probe;
