-- Homes that let their ended batches teach the other homes of the club, each under a random name. Whoever learns reads what was given, and
-- not whose it is; a home that no longer agrees has no row.
DO $$
BEGIN
    IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = 'chamber_learner') THEN
        CREATE ROLE chamber_learner NOLOGIN NOSUPERUSER NOBYPASSRLS;
    END IF;
EXCEPTION WHEN duplicate_object OR unique_violation THEN
    NULL; -- Another database of this server was set up at the same moment.
END
$$;
GRANT chamber_learner TO CURRENT_USER;

CREATE TABLE experience (
    home integer PRIMARY KEY REFERENCES home,
    name text NOT NULL UNIQUE CHECK (name ~ '^[0-9a-f]{32}$'),
    body json -- null until it is gathered
);
ALTER TABLE experience ENABLE ROW LEVEL SECURITY;
ALTER TABLE experience FORCE ROW LEVEL SECURITY;
CREATE POLICY own_home ON experience TO chamber_home
    USING (current_user = 'chamber_home' AND home = nullif(current_setting('chamber.home', true), '')::integer);
CREATE POLICY given ON experience FOR SELECT TO chamber_learner USING (current_user = 'chamber_learner' AND body IS NOT NULL);
CREATE POLICY listed ON experience FOR SELECT TO chamber_keeper USING (current_user = 'chamber_keeper');
GRANT SELECT, INSERT, UPDATE, DELETE ON experience TO chamber_home;
GRANT SELECT (name, body) ON experience TO chamber_learner;
GRANT SELECT (home) ON experience TO chamber_keeper;
