-- How far the watch of each home had come, as the program of that stamp wrote it: it spares whoever wakes the home the reading of its past.
-- It may be deleted at any time.
CREATE TABLE checkpoint (
    home integer PRIMARY KEY REFERENCES home,
    stamp bytea NOT NULL,
    facts bigint NOT NULL,
    ended_after timestamptz NOT NULL,
    body bytea NOT NULL
);
ALTER TABLE checkpoint ALTER COLUMN body SET STORAGE EXTERNAL; -- it is packed already
ALTER TABLE checkpoint ENABLE ROW LEVEL SECURITY;
ALTER TABLE checkpoint FORCE ROW LEVEL SECURITY;
CREATE POLICY own_home ON checkpoint TO chamber_home
    USING (current_user = 'chamber_home' AND home = nullif(current_setting('chamber.home', true), '')::integer);
GRANT SELECT, INSERT, UPDATE ON checkpoint TO chamber_home;
