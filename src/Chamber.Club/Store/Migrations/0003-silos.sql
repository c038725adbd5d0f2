-- Alerts of a home as they were told. At most one of a kind is open for a subject, whoever writes it down.
CREATE TABLE alert (
    home integer NOT NULL REFERENCES home,
    number bigint NOT NULL,
    kind text NOT NULL,
    subject_kind text NOT NULL,
    subject text NOT NULL,
    severity text NOT NULL,
    since timestamptz NOT NULL,
    opened timestamptz NOT NULL,
    closed timestamptz,
    close_reason text,
    evidence text NOT NULL,
    known bigint NOT NULL, -- the newest fact then: whoever reads the alert knows by which names it speaks
    PRIMARY KEY (home, number)
);
CREATE UNIQUE INDEX alert_open ON alert (home, kind, subject_kind, subject) WHERE closed IS NULL;
ALTER TABLE alert ENABLE ROW LEVEL SECURITY;
ALTER TABLE alert FORCE ROW LEVEL SECURITY;
CREATE POLICY own_home ON alert TO chamber_home
    USING (current_user = 'chamber_home' AND home = nullif(current_setting('chamber.home', true), '')::integer);
GRANT SELECT, INSERT, UPDATE ON alert TO chamber_home;

-- What Orleans asks of a database: which silos there are, by a version that grows with each change, and reminders. It asks by the
-- queries below; their keys, parameters and columns are its contract, the tables are ours.
CREATE TABLE silo_version (
    deployment text PRIMARY KEY,
    version integer NOT NULL
);
CREATE TABLE silo (
    deployment text NOT NULL REFERENCES silo_version,
    address text NOT NULL,
    port integer NOT NULL,
    generation integer NOT NULL,
    name text NOT NULL,
    host text NOT NULL,
    status integer NOT NULL,
    proxy_port integer NOT NULL,
    suspects text,
    started timestamptz NOT NULL,
    alive timestamptz NOT NULL,
    PRIMARY KEY (deployment, address, port, generation)
);
CREATE TABLE reminder (
    service text NOT NULL,
    grain text NOT NULL,
    name text NOT NULL,
    hash integer NOT NULL,
    start timestamptz NOT NULL,
    period bigint NOT NULL,
    version integer NOT NULL,
    PRIMARY KEY (service, grain, name)
);
CREATE INDEX reminder_hash ON reminder (service, hash);
CREATE TABLE OrleansQuery (
    QueryKey text PRIMARY KEY,
    QueryText text NOT NULL
);

INSERT INTO OrleansQuery (QueryKey, QueryText) VALUES
('GatewaysQueryKey', '
    SELECT address AS Address, proxy_port AS ProxyPort, generation AS Generation FROM silo
    WHERE deployment = @DeploymentId AND status = @Status AND proxy_port > 0'),
('MembershipReadRowKey', '
    SELECT v.version AS Version, s.address AS Address, s.port AS Port, s.generation AS Generation, s.name AS SiloName,
        s.host AS HostName, s.status AS Status, s.proxy_port AS ProxyPort, s.suspects AS SuspectTimes, s.started AS StartTime,
        s.alive AS IAmAliveTime
    FROM silo_version v LEFT JOIN silo s
        ON s.deployment = v.deployment AND s.address = @Address AND s.port = @Port AND s.generation = @Generation
    WHERE v.deployment = @DeploymentId'),
('MembershipReadAllKey', '
    SELECT v.version AS Version, s.address AS Address, s.port AS Port, s.generation AS Generation, s.name AS SiloName,
        s.host AS HostName, s.status AS Status, s.proxy_port AS ProxyPort, s.suspects AS SuspectTimes, s.started AS StartTime,
        s.alive AS IAmAliveTime
    FROM silo_version v LEFT JOIN silo s ON s.deployment = v.deployment
    WHERE v.deployment = @DeploymentId'),
('InsertMembershipVersionKey', '
    WITH made AS (INSERT INTO silo_version (deployment, version) VALUES (@DeploymentId, 0) ON CONFLICT DO NOTHING RETURNING 1)
    SELECT count(*) > 0 FROM made'),
('InsertMembershipKey', '
    WITH moved AS (
        UPDATE silo_version SET version = version + 1 WHERE deployment = @DeploymentId AND version = @Version
            AND NOT EXISTS (SELECT FROM silo WHERE deployment = @DeploymentId AND address = @Address AND port = @Port
                AND generation = @Generation)
        RETURNING 1),
    made AS (
        INSERT INTO silo (deployment, address, port, generation, name, host, status, proxy_port, started, alive)
        SELECT @DeploymentId, @Address, @Port, @Generation, @SiloName, @HostName, @Status, @ProxyPort, @StartTime, @IAmAliveTime FROM moved
        RETURNING 1)
    SELECT count(*) > 0 FROM made'),
('UpdateMembershipKey', '
    WITH moved AS (
        UPDATE silo_version SET version = version + 1 WHERE deployment = @DeploymentId AND version = @Version RETURNING 1),
    changed AS (
        UPDATE silo SET status = @Status, suspects = @SuspectTimes, alive = @IAmAliveTime FROM moved
        WHERE deployment = @DeploymentId AND address = @Address AND port = @Port AND generation = @Generation
        RETURNING 1)
    SELECT count(*) > 0 FROM changed'),
('UpdateIAmAlivetimeKey', '
    UPDATE silo SET alive = @IAmAliveTime
    WHERE deployment = @DeploymentId AND address = @Address AND port = @Port AND generation = @Generation'),
('DeleteMembershipTableEntriesKey', '
    DELETE FROM silo WHERE deployment = @DeploymentId;
    DELETE FROM silo_version WHERE deployment = @DeploymentId'),
('CleanupDefunctSiloEntriesKey', '
    DELETE FROM silo WHERE deployment = @DeploymentId AND status = 6 AND alive < @IAmAliveTime'),
('CleanupDefunctSiloEntryKey', '
    DELETE FROM silo WHERE deployment = @DeploymentId AND address = @Address AND port = @Port AND generation = @Generation
        AND status = 6 AND started = @StartTime AND alive = @IAmAliveTime AND suspects IS NOT DISTINCT FROM @SuspectTimes'),
('ReadReminderRowsKey', '
    SELECT grain AS GrainId, name AS ReminderName, start AS StartTime, period AS Period, version AS Version FROM reminder
    WHERE service = @ServiceId AND grain = @GrainId'),
('ReadReminderRowKey', '
    SELECT grain AS GrainId, name AS ReminderName, start AS StartTime, period AS Period, version AS Version FROM reminder
    WHERE service = @ServiceId AND grain = @GrainId AND name = @ReminderName'),
('ReadRangeRows1Key', '
    SELECT grain AS GrainId, name AS ReminderName, start AS StartTime, period AS Period, version AS Version FROM reminder
    WHERE service = @ServiceId AND hash > @BeginHash AND hash <= @EndHash'),
('ReadRangeRows2Key', '
    SELECT grain AS GrainId, name AS ReminderName, start AS StartTime, period AS Period, version AS Version FROM reminder
    WHERE service = @ServiceId AND (hash > @BeginHash OR hash <= @EndHash)'),
('UpsertReminderRowKey', '
    INSERT INTO reminder AS known (service, grain, name, hash, start, period, version)
    VALUES (@ServiceId, @GrainId, @ReminderName, @GrainHash, @StartTime, @Period, 0)
    ON CONFLICT (service, grain, name) DO UPDATE
        SET hash = excluded.hash, start = excluded.start, period = excluded.period, version = known.version + 1
    RETURNING version AS Version'),
('DeleteReminderRowKey', '
    WITH gone AS (
        DELETE FROM reminder WHERE service = @ServiceId AND grain = @GrainId AND name = @ReminderName AND version = @Version RETURNING 1)
    SELECT count(*) > 0 FROM gone'),
('DeleteReminderRowsKey', '
    DELETE FROM reminder WHERE service = @ServiceId');
