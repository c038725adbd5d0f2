-- Notes about batches and spots, and limits of alerts that somebody has chosen for one: what the facts come to.
CREATE TABLE note (
  subject_kind TEXT NOT NULL CHECK (subject_kind IN ('Batch', 'Spot')),
  subject TEXT NOT NULL,
  at INTEGER NOT NULL,
  text TEXT NOT NULL
) STRICT;
CREATE INDEX note_of ON note (subject_kind, subject, at);
CREATE TABLE own_limit (
  subject_kind TEXT NOT NULL CHECK (subject_kind IN ('Batch', 'Spot')),
  subject TEXT NOT NULL,
  too_hot REAL CHECK (too_hot BETWEEN 5 AND 70),
  too_cold REAL CHECK (too_cold BETWEEN 5 AND 70),
  PRIMARY KEY (subject_kind, subject)
) STRICT, WITHOUT ROWID;
