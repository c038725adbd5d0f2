-- Photos of batches: what the facts come to. The files lie beside the data.
CREATE TABLE photo (
  batch TEXT NOT NULL REFERENCES batch ON DELETE CASCADE,
  name TEXT NOT NULL,
  at INTEGER NOT NULL,
  note TEXT,
  marks TEXT NOT NULL,             -- as "1 0.25 0.5; 2 0.75 0.5": number, share of the width, share of the height
  PRIMARY KEY (batch, name)
) STRICT, WITHOUT ROWID;
