-- Homes of a club. Every table but the list of homes has a column home, and a row is seen and written only by whoever has said in the
-- same transaction which home is meant: SET LOCAL chamber.home. docs/club.md says who may say so.
DO $$
BEGIN
    IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = 'chamber_home') THEN
        CREATE ROLE chamber_home NOLOGIN NOSUPERUSER NOBYPASSRLS;
    END IF;
    IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = 'chamber_intake') THEN
        CREATE ROLE chamber_intake NOLOGIN NOSUPERUSER NOBYPASSRLS;
    END IF;
    IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = 'chamber_rollup') THEN
        CREATE ROLE chamber_rollup NOLOGIN NOSUPERUSER NOBYPASSRLS;
    END IF;
EXCEPTION WHEN duplicate_object OR unique_violation THEN
    NULL; -- Another database of this server was set up at the same moment.
END
$$;
GRANT chamber_home, chamber_intake, chamber_rollup TO CURRENT_USER;

CREATE TABLE home (
    key integer GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    name text NOT NULL UNIQUE CHECK (name ~ '^[a-z0-9][a-z0-9-]{0,39}$')
);

-- Entries are added and never changed or taken away.
CREATE TABLE fact (
    home integer NOT NULL REFERENCES home,
    number bigint NOT NULL CHECK (number > 0),
    act bigint NOT NULL,
    at timestamptz NOT NULL,
    written timestamptz NOT NULL,
    who text NOT NULL,
    way text NOT NULL,
    kind text NOT NULL,
    version smallint NOT NULL,
    body json NOT NULL,
    PRIMARY KEY (home, number)
);

-- A probe stands under the name that it had first. newest is the time of its newest reading; readings at or before it are late.
-- Readings before rolled_to have been looked at for level stretches.
CREATE TABLE probe (
    home integer NOT NULL REFERENCES home,
    key integer NOT NULL,
    first_name text NOT NULL,
    newest timestamptz,
    rolled_to timestamptz,
    PRIMARY KEY (home, key),
    UNIQUE (home, first_name)
);

-- All names of the probes that were renamed, as the facts have them: written again whenever those say something else.
CREATE TABLE probe_name (
    home integer NOT NULL REFERENCES home,
    name text NOT NULL,
    first_name text NOT NULL,
    present_name text NOT NULL,
    PRIMARY KEY (home, name)
);

CREATE TABLE reading (
    home integer NOT NULL,
    probe integer NOT NULL,
    at timestamptz NOT NULL,
    received timestamptz NOT NULL,
    clock smallint NOT NULL,
    temperature double precision,
    humidity double precision,
    moisture double precision,
    battery double precision,
    PRIMARY KEY (home, probe, at)
) PARTITION BY RANGE (at);

-- Level stretches that stand for old readings.
CREATE TABLE rolled (
    home integer NOT NULL,
    probe integer NOT NULL,
    at timestamptz NOT NULL,
    span integer NOT NULL,
    count integer NOT NULL,
    temperature double precision,
    low double precision,
    high double precision,
    humidity double precision,
    moisture double precision,
    battery double precision,
    PRIMARY KEY (home, probe, at)
);

-- What changed behind a probe's newest reading, so that whoever has seen that folds it again.
CREATE TABLE late (
    home integer NOT NULL,
    number bigint NOT NULL,
    probe integer NOT NULL,
    first timestamptz NOT NULL,
    last timestamptz NOT NULL,
    PRIMARY KEY (home, number)
);

CREATE TABLE last_known (
    home integer NOT NULL,
    probe integer NOT NULL,
    received timestamptz NOT NULL,
    temperature double precision,
    humidity double precision,
    moisture double precision,
    battery double precision,
    PRIMARY KEY (home, probe)
);

CREATE TABLE refusal (
    home integer NOT NULL REFERENCES home,
    number bigint GENERATED ALWAYS AS IDENTITY,
    received timestamptz NOT NULL,
    source text NOT NULL,
    probe text,
    quantity text,
    reason text NOT NULL,
    raw text NOT NULL,
    fix text NOT NULL,
    PRIMARY KEY (home, number)
);

DO $$
DECLARE
    name text;
BEGIN
    FOREACH name IN ARRAY ARRAY['fact', 'probe', 'probe_name', 'reading', 'rolled', 'late', 'last_known', 'refusal'] LOOP
        EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', name);
        EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', name);
        -- A policy holds for whoever is a member of its role, the owner too, so it asks which role was taken on. Where that was
        -- forgotten, or nobody has said which home, there is no row.
        EXECUTE format('CREATE POLICY own_home ON %I TO chamber_home '
            'USING (current_user = ''chamber_home'' AND home = nullif(current_setting(''chamber.home'', true), '''')::integer)', name);
    END LOOP;
    -- Old readings are summed up home by home, by who may delete readings and may do nothing else.
    FOREACH name IN ARRAY ARRAY['probe', 'reading', 'rolled'] LOOP
        EXECUTE format('CREATE POLICY rolled_home ON %I TO chamber_rollup '
            'USING (current_user = ''chamber_rollup'' AND home = nullif(current_setting(''chamber.home'', true), '''')::integer)', name);
    END LOOP;
    -- The intake serves all homes at once. It adds readings, and reads no fact.
    FOREACH name IN ARRAY ARRAY['probe', 'probe_name', 'reading', 'rolled', 'late', 'last_known', 'refusal'] LOOP
        EXECUTE format('CREATE POLICY every_home ON %I TO chamber_intake USING (current_user = ''chamber_intake'')', name);
    END LOOP;
END
$$;
ALTER TABLE home ENABLE ROW LEVEL SECURITY;
CREATE POLICY own_home ON home TO chamber_home
    USING (current_user = 'chamber_home' AND key = nullif(current_setting('chamber.home', true), '')::integer);
CREATE POLICY every_home ON home TO chamber_intake USING (current_user = 'chamber_intake');

GRANT SELECT ON home TO chamber_home, chamber_intake;
GRANT SELECT, INSERT ON fact TO chamber_home;
GRANT SELECT, INSERT, DELETE ON probe_name TO chamber_home;
GRANT SELECT ON probe_name TO chamber_intake;
GRANT SELECT, INSERT, UPDATE ON probe, reading, last_known TO chamber_home, chamber_intake;
GRANT SELECT ON rolled TO chamber_home, chamber_intake;
GRANT SELECT, INSERT, DELETE ON late, refusal TO chamber_home, chamber_intake;
GRANT SELECT, UPDATE (rolled_to) ON probe TO chamber_rollup;
GRANT SELECT, DELETE ON reading TO chamber_rollup;
GRANT SELECT, INSERT ON rolled TO chamber_rollup;

-- The partition of a month, made when its first reading comes. It runs as the owner, since members make no tables. Made apart and
-- attached, it waits for nobody who reads.
CREATE FUNCTION make_month(month date) RETURNS void
LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, public AS $$
DECLARE
    first date := date_trunc('month', month);
    name text := 'reading_' || to_char(first, 'YYYY_MM');
BEGIN
    -- Two who come at once: the second finds it made.
    PERFORM pg_advisory_xact_lock(hashtext('chamber.make_month'));
    IF to_regclass('public.' || name) IS NULL THEN
        EXECUTE format('CREATE TABLE public.%I (LIKE public.reading INCLUDING ALL)', name);
        EXECUTE format('ALTER TABLE public.reading ATTACH PARTITION public.%I FOR VALUES FROM (%L) TO (%L)',
            name, first::timestamp AT TIME ZONE 'UTC', (first + interval '1 month')::timestamp AT TIME ZONE 'UTC');
    END IF;
END
$$;
REVOKE ALL ON FUNCTION make_month FROM PUBLIC;
GRANT EXECUTE ON FUNCTION make_month TO chamber_home, chamber_intake;
