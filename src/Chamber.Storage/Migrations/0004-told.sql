-- What people were told of an alert, so that a restart neither repeats nor forgets.
ALTER TABLE alert ADD COLUMN told_at INTEGER;
ALTER TABLE alert ADD COLUMN told_severity TEXT;
ALTER TABLE alert ADD COLUMN told_severity_at INTEGER;
ALTER TABLE alert ADD COLUMN told_times INTEGER NOT NULL DEFAULT 0;
ALTER TABLE alert ADD COLUMN told_over INTEGER NOT NULL DEFAULT 0;

-- Somebody works on a spot, or on the whole home where spot is NULL. Always with an end, so that it cannot be forgotten.
CREATE TABLE maintenance (
  number INTEGER PRIMARY KEY,
  spot TEXT REFERENCES spot ON DELETE CASCADE,
  start INTEGER NOT NULL,
  end INTEGER NOT NULL CHECK (end > start)
) STRICT;
