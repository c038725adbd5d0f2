-- What homes have taught one another, worked out: for each home that gives what the others gave, under its random name, and under no name
-- what all gave. It holds as long as its basis is what is given now.
CREATE TABLE learned (
    name text PRIMARY KEY CHECK (name ~ '^([0-9a-f]{32})?$'),
    basis text NOT NULL,
    body json NOT NULL
);
ALTER TABLE learned ENABLE ROW LEVEL SECURITY;
ALTER TABLE learned FORCE ROW LEVEL SECURITY;
CREATE POLICY every_name ON learned TO chamber_learner USING (current_user = 'chamber_learner');
GRANT SELECT, INSERT, UPDATE, DELETE ON learned TO chamber_learner;
