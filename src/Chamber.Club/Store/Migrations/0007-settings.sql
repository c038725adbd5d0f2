-- What is set for a home, as its chamber.json would say it: its time zone, quiet hours, limits of alerts, mappings of topics. The intake
-- reads it too, since it decodes by the mappings.
CREATE TABLE setting (
    home integer PRIMARY KEY REFERENCES home,
    body text NOT NULL,
    changed timestamptz NOT NULL DEFAULT clock_timestamp()
);
ALTER TABLE setting ENABLE ROW LEVEL SECURITY;
ALTER TABLE setting FORCE ROW LEVEL SECURITY;
CREATE POLICY own_home ON setting TO chamber_home
    USING (current_user = 'chamber_home' AND home = nullif(current_setting('chamber.home', true), '')::integer);
CREATE POLICY every_home ON setting FOR SELECT TO chamber_intake USING (current_user = 'chamber_intake');
GRANT SELECT, INSERT, UPDATE ON setting TO chamber_home;
GRANT SELECT ON setting TO chamber_intake;

-- The day of the newest digest that was put into the outbox: one that was sent leaves no other trace there.
CREATE TABLE digest (
    home integer PRIMARY KEY REFERENCES home,
    day date NOT NULL
);
ALTER TABLE digest ENABLE ROW LEVEL SECURITY;
ALTER TABLE digest FORCE ROW LEVEL SECURITY;
CREATE POLICY own_home ON digest TO chamber_home
    USING (current_user = 'chamber_home' AND home = nullif(current_setting('chamber.home', true), '')::integer);
GRANT SELECT, INSERT, UPDATE ON digest TO chamber_home;
