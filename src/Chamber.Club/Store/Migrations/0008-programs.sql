-- Programs that may use the API of a home, each by a token of which only its SHA-256 is known here.
CREATE TABLE program (
    home integer NOT NULL REFERENCES home,
    secret text NOT NULL UNIQUE,
    name text NOT NULL CHECK (length(name) BETWEEN 1 AND 60),
    writes boolean NOT NULL,
    PRIMARY KEY (home, name)
);
ALTER TABLE program ENABLE ROW LEVEL SECURITY;
ALTER TABLE program FORCE ROW LEVEL SECURITY;
CREATE POLICY own_home ON program TO chamber_door USING (current_user = 'chamber_door' AND home = asked_home());
CREATE POLICY by_secret ON program FOR SELECT TO chamber_door USING (current_user = 'chamber_door' AND secret = asked_secret());
CREATE POLICY of_program ON home FOR SELECT TO chamber_door USING (current_user = 'chamber_door'
    AND EXISTS (SELECT FROM program WHERE program.home = key AND program.secret = asked_secret()));
GRANT SELECT, INSERT, DELETE ON program TO chamber_door;
GRANT UPDATE (secret, writes) ON program TO chamber_door;
