-- Who may come in, and with what sensors do. The pages speak to the database in a role of their own, which says in each transaction for
-- which home, which person or by which secret it asks, and finds what belongs to that. Nothing here lets it read a fact or a reading.
DO $$
BEGIN
    IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = 'chamber_door') THEN
        CREATE ROLE chamber_door NOLOGIN NOSUPERUSER NOBYPASSRLS;
    END IF;
    IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = 'chamber_keeper') THEN
        CREATE ROLE chamber_keeper NOLOGIN NOSUPERUSER NOBYPASSRLS;
    END IF;
EXCEPTION WHEN duplicate_object OR unique_violation THEN
    NULL; -- Another database of this server was set up at the same moment.
END
$$;
GRANT chamber_door, chamber_keeper TO CURRENT_USER;

CREATE TABLE person (
    key integer GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    name text NOT NULL CHECK (length(name) BETWEEN 1 AND 60),
    password text NOT NULL -- PBKDF2 with HMAC-SHA512, salted
);
CREATE UNIQUE INDEX person_by_name ON person (lower(name));

-- Who looks after the club. That opens no home.
CREATE TABLE keeper (
    person integer PRIMARY KEY REFERENCES person
);

CREATE TABLE membership (
    home integer NOT NULL REFERENCES home,
    person integer NOT NULL REFERENCES person,
    role text NOT NULL CHECK (role IN ('owner', 'member', 'guest')),
    PRIMARY KEY (home, person)
);
CREATE INDEX membership_of_person ON membership (person);

-- A link that is used once. Of the secret in it the database knows the SHA-256. Without a home it is for a keeper.
CREATE TABLE invitation (
    secret text PRIMARY KEY,
    home integer REFERENCES home,
    role text NOT NULL CHECK (role IN ('owner', 'member', 'guest', 'keeper')),
    whom text NOT NULL CHECK (length(whom) BETWEEN 1 AND 60),
    expires timestamptz NOT NULL,
    by_keeper boolean NOT NULL DEFAULT false,
    used_by integer REFERENCES person,
    CHECK ((home IS NULL) = (role = 'keeper'))
);
CREATE INDEX invitation_of_home ON invitation (home);
-- A keeper hands a home over once: whoever has it then lets others in, and no second link of a keeper's leads there.
CREATE UNIQUE INDEX invitation_of_keeper ON invitation (home) WHERE by_keeper;

-- A browser in which somebody has signed in; the SHA-256 of what its cookie holds.
CREATE TABLE sign_in (
    secret text PRIMARY KEY,
    person integer NOT NULL REFERENCES person,
    since timestamptz NOT NULL
);
CREATE INDEX sign_in_of_person ON sign_in (person);

-- The keys that seal cookies, the same for every process that serves pages.
CREATE TABLE page_key (
    name text PRIMARY KEY,
    body text NOT NULL
);

-- What a sensor shows the broker, as the line of the broker's password file has it. It writes the topics of the probe of its name, or,
-- as a bridge, every topic of the home.
CREATE TABLE sensor (
    home integer NOT NULL REFERENCES home,
    name text NOT NULL CHECK (length(name) BETWEEN 1 AND 48 AND name !~ '[[:space:]/+#:]'),
    password text NOT NULL,
    bridge boolean NOT NULL,
    PRIMARY KEY (home, name)
);

DO $$
DECLARE
    name text;
BEGIN
    FOREACH name IN ARRAY ARRAY['person', 'keeper', 'membership', 'invitation', 'sign_in', 'page_key', 'sensor'] LOOP
        EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', name);
        EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', name);
    END LOOP;
END
$$;

-- What a transaction at the door has named.
CREATE FUNCTION asked_home() RETURNS integer LANGUAGE sql STABLE AS
    $$ SELECT nullif(current_setting('chamber.home', true), '')::integer $$;
CREATE FUNCTION asked_person() RETURNS integer LANGUAGE sql STABLE AS
    $$ SELECT nullif(current_setting('chamber.person', true), '')::integer $$;
CREATE FUNCTION asked_secret() RETURNS text LANGUAGE sql STABLE AS $$ SELECT nullif(current_setting('chamber.secret', true), '') $$;

CREATE POLICY by_secret ON sign_in FOR SELECT TO chamber_door USING (current_user = 'chamber_door' AND secret = asked_secret());
CREATE POLICY own ON sign_in FOR INSERT TO chamber_door WITH CHECK (current_user = 'chamber_door' AND person = asked_person());
CREATE POLICY gone ON sign_in FOR DELETE TO chamber_door
    USING (current_user = 'chamber_door' AND (secret = asked_secret() OR person = asked_person()));
CREATE POLICY gone_shown ON sign_in FOR SELECT TO chamber_door USING (current_user = 'chamber_door' AND person = asked_person());

CREATE POLICY seen ON membership FOR SELECT TO chamber_door
    USING (current_user = 'chamber_door' AND (home = asked_home() OR person = asked_person()));
CREATE POLICY gone ON membership FOR DELETE TO chamber_door USING (current_user = 'chamber_door' AND home = asked_home());
CREATE POLICY counted ON membership FOR SELECT TO chamber_keeper USING (current_user = 'chamber_keeper');

CREATE POLICY seen ON invitation FOR SELECT TO chamber_door
    USING (current_user = 'chamber_door' AND (home = asked_home() OR secret = asked_secret()));
CREATE POLICY made ON invitation FOR INSERT TO chamber_door
    WITH CHECK (current_user = 'chamber_door' AND home = asked_home() AND NOT by_keeper AND used_by IS NULL);
CREATE POLICY used ON invitation FOR UPDATE TO chamber_door
    USING (current_user = 'chamber_door' AND secret = asked_secret() AND used_by IS NULL AND expires > now())
    WITH CHECK (current_user = 'chamber_door' AND used_by = asked_person());
CREATE POLICY gone ON invitation FOR DELETE TO chamber_door
    USING (current_user = 'chamber_door' AND home = asked_home() AND NOT by_keeper);
CREATE POLICY of_keeper ON invitation FOR SELECT TO chamber_keeper USING (current_user = 'chamber_keeper' AND by_keeper);
CREATE POLICY by_keeper ON invitation FOR INSERT TO chamber_keeper
    WITH CHECK (current_user = 'chamber_keeper' AND by_keeper AND used_by IS NULL AND (role = 'keeper' OR role = 'owner'
        AND NOT EXISTS (SELECT FROM membership WHERE membership.home = invitation.home)));
CREATE POLICY gone_of_keeper ON invitation FOR DELETE TO chamber_keeper
    USING (current_user = 'chamber_keeper' AND by_keeper AND used_by IS NULL);

-- Somebody comes in by an invitation that is still good, to what it is for.
CREATE POLICY invited ON membership FOR INSERT TO chamber_door WITH CHECK (current_user = 'chamber_door' AND person = asked_person()
    AND EXISTS (SELECT FROM invitation WHERE secret = asked_secret() AND invitation.home = membership.home
        AND invitation.role = membership.role AND used_by IS NULL AND expires > now()));
CREATE POLICY raised ON membership FOR UPDATE TO chamber_door USING (current_user = 'chamber_door' AND person = asked_person())
    WITH CHECK (current_user = 'chamber_door' AND person = asked_person()
        AND EXISTS (SELECT FROM invitation WHERE secret = asked_secret() AND invitation.home = membership.home
            AND invitation.role = membership.role AND used_by IS NULL AND expires > now()));
CREATE POLICY seen ON keeper FOR SELECT TO chamber_door USING (current_user = 'chamber_door' AND person = asked_person());
CREATE POLICY invited ON keeper FOR INSERT TO chamber_door WITH CHECK (current_user = 'chamber_door' AND person = asked_person()
    AND EXISTS (SELECT FROM invitation WHERE secret = asked_secret() AND role = 'keeper' AND used_by IS NULL AND expires > now()));

CREATE POLICY seen ON person FOR SELECT TO chamber_door USING (current_user = 'chamber_door' AND (key = asked_person()
    OR lower(name) = lower(nullif(current_setting('chamber.name', true), ''))
    OR EXISTS (SELECT FROM membership WHERE person = key AND home = asked_home())
    OR EXISTS (SELECT FROM sign_in WHERE person = key AND secret = asked_secret())));
CREATE POLICY invited ON person FOR INSERT TO chamber_door WITH CHECK (current_user = 'chamber_door'
    AND EXISTS (SELECT FROM invitation WHERE secret = asked_secret() AND used_by IS NULL AND expires > now()));
CREATE POLICY own ON person FOR UPDATE TO chamber_door USING (current_user = 'chamber_door' AND key = asked_person());

CREATE POLICY every_page ON page_key TO chamber_door USING (current_user = 'chamber_door');

CREATE POLICY own_home ON sensor TO chamber_door USING (current_user = 'chamber_door' AND home = asked_home());
CREATE POLICY every_home ON sensor FOR SELECT TO chamber_keeper USING (current_user = 'chamber_keeper');

CREATE POLICY of_person ON home FOR SELECT TO chamber_door USING (current_user = 'chamber_door' AND (key = asked_home()
    OR EXISTS (SELECT FROM membership WHERE home = key AND person = asked_person())
    OR EXISTS (SELECT FROM invitation WHERE home = key AND secret = asked_secret())));
CREATE POLICY every_home_kept ON home FOR SELECT TO chamber_keeper USING (current_user = 'chamber_keeper');

-- A keeper sees when something was measured in a home, and not what.
CREATE POLICY kept ON probe FOR SELECT TO chamber_keeper USING (current_user = 'chamber_keeper');
CREATE POLICY kept ON reading FOR SELECT TO chamber_keeper USING (current_user = 'chamber_keeper');

GRANT SELECT ON home, keeper, membership, invitation, sign_in, person, page_key, sensor TO chamber_door;
GRANT INSERT ON keeper, membership, invitation, sign_in, person, page_key, sensor TO chamber_door;
GRANT DELETE ON membership, invitation, sign_in, sensor TO chamber_door;
GRANT UPDATE (used_by) ON invitation TO chamber_door;
GRANT UPDATE (role) ON membership TO chamber_door;
GRANT UPDATE (password) ON person TO chamber_door;
GRANT UPDATE (password, bridge) ON sensor TO chamber_door;
GRANT SELECT ON home, sensor, silo TO chamber_keeper;
GRANT SELECT (home) ON membership TO chamber_keeper;
GRANT SELECT, INSERT, DELETE ON invitation TO chamber_keeper;
GRANT SELECT (home, key, newest) ON probe TO chamber_keeper;
GRANT SELECT (home, probe, at) ON reading TO chamber_keeper;
