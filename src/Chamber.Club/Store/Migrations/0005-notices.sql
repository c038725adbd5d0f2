-- Who of a home gets its notices, what waits to be sent, and what people were notified of. A notice is put here in the transaction in
-- which the alert says that people were notified, and leaves when the mail server has taken it.
CREATE TABLE address (
    home integer NOT NULL REFERENCES home,
    mail text NOT NULL CHECK (length(mail) BETWEEN 3 AND 254),
    PRIMARY KEY (home, mail)
);

CREATE TABLE notice (
    home integer NOT NULL REFERENCES home,
    number bigint GENERATED ALWAYS AS IDENTITY,
    name text NOT NULL,
    mail text NOT NULL,
    body json NOT NULL,
    tries integer NOT NULL DEFAULT 0,
    due timestamptz, -- null once it is given up
    reason text,
    PRIMARY KEY (home, number),
    UNIQUE (home, name, mail)
);
CREATE INDEX notice_due ON notice (home, due) WHERE due IS NOT NULL;

ALTER TABLE alert
    ADD COLUMN notified timestamptz,
    ADD COLUMN notified_severity text,
    ADD COLUMN notified_severity_since timestamptz,
    ADD COLUMN notified_times integer NOT NULL DEFAULT 0,
    ADD COLUMN notified_over boolean NOT NULL DEFAULT false;

DO $$
DECLARE
    name text;
BEGIN
    FOREACH name IN ARRAY ARRAY['address', 'notice'] LOOP
        EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', name);
        EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', name);
        EXECUTE format('CREATE POLICY own_home ON %I TO chamber_home '
            'USING (current_user = ''chamber_home'' AND home = nullif(current_setting(''chamber.home'', true), '''')::integer)', name);
    END LOOP;
END
$$;
GRANT SELECT, INSERT, UPDATE, DELETE ON address, notice TO chamber_home;
