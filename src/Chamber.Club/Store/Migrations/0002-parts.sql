-- What belongs to a home and is no fact and no reading: files of the folder that it came in by, as they were, so that they leave with it.
CREATE TABLE part (
    home integer NOT NULL REFERENCES home,
    name text NOT NULL CHECK (name ~ '^(photos/)?[A-Za-z0-9][A-Za-z0-9.-]{0,99}$'),
    body bytea NOT NULL,
    PRIMARY KEY (home, name)
);
ALTER TABLE part ENABLE ROW LEVEL SECURITY;
ALTER TABLE part FORCE ROW LEVEL SECURITY;
CREATE POLICY own_home ON part TO chamber_home
    USING (current_user = 'chamber_home' AND home = nullif(current_setting('chamber.home', true), '')::integer);
GRANT SELECT, INSERT, UPDATE ON part TO chamber_home;
