using System.Collections.Concurrent;
using System.Data;
using Chamber.Core.Climate;
using DbUp;
using NodaTime;
using Npgsql;

namespace Chamber.Club.Store;

/// <summary>
/// The database of a club on PostgreSQL 15 or later: facts and readings of many homes, each seen by itself alone. Any thread may use it,
/// and any number of processes at once. What fails there is a <see cref="StoreException"/>, and then nothing was written.
/// </summary>
public sealed class ClubDatabase : IAsyncDisposable
{
    // More than there are questions.
    private const int StatementsMax = 100;

    private readonly NpgsqlDataSource source;
    private readonly ConcurrentDictionary<DateOnly, bool> months = new();

    private ClubDatabase(NpgsqlDataSource source) => this.source = source;

    /// <summary>Opens a database and brings its tables up to date.</summary>
    /// <param name="address">As Npgsql takes it: <c>Host=...;Database=...;Username=...</c>. The user owns the tables; it needs the right
    /// to make roles once, or the roles that docs/club.md names made for it.</param>
    /// <exception cref="StoreException">The server does not answer, or the tables cannot be made.</exception>
    public static ClubDatabase Open(string address)
    {
        var upgrade = DeployChanges.To.PostgresqlDatabase(address).LogToNowhere().WithTransactionPerScript()
            .WithScriptsEmbeddedInAssembly(typeof(ClubDatabase).Assembly, name => name.EndsWith(".sql", StringComparison.Ordinal))
            .Build().PerformUpgrade();
        if (!upgrade.Successful)
        {
            throw ClubFault.Of(upgrade.Error);
        }

        var builder = new NpgsqlDataSourceBuilder(address);

        // The same few questions are asked all day: planning them cost more than answering.
        builder.ConnectionStringBuilder.MaxAutoPrepare = Math.Max(builder.ConnectionStringBuilder.MaxAutoPrepare, StatementsMax);
        builder.UseNodaTime();
        return new(builder.Build());
    }

    /// <summary>Makes a home.</summary>
    /// <param name="name">1 to 40 small letters, digits and hyphens.</param>
    /// <param name="cancel">Ends the wait; nothing is made then.</param>
    /// <returns>Its number.</returns>
    /// <exception cref="StoreException">There is a home of that name, or the name is none.</exception>
    public Task<int> AddHomeAsync(string name, CancellationToken cancel = default) => ClubFault.Told(async () =>
    {
        await using var command = source.CreateCommand("INSERT INTO home (name) VALUES ($1) RETURNING key");
        command.Parameters.Add(new() { Value = name });
        return (int)(await command.ExecuteScalarAsync(cancel))!;
    });

    /// <summary>The store of one home: it sees and writes that home's rows alone.</summary>
    /// <param name="home">Its number.</param>
    /// <param name="options">Its bounds.</param>
    /// <param name="written">Is called when something was written by this store; null for nothing.</param>
    public IHomeStore Home(int home, StoreOptions? options = null, Action? written = null) =>
        new ClubHomeStore(this, home, options ?? new(), written);

    /// <summary>The numbers of homes by name; a name of no home is not among them.</summary>
    public Task<Dictionary<string, int>> HomesAsync(IEnumerable<string> names, CancellationToken cancel = default) =>
        ClubFault.Told(async () =>
        {
            await using var session = await BeginAsync(HomeSession.IntakeRole, null, cancel);
            var homes = await session.RowsAsync(
                "SELECT name, key FROM home WHERE name = ANY ($1)", row => (row.GetString(0), row.GetInt32(1)), [names.ToArray()]);
            return homes.ToDictionary();
        });

    /// <summary>What is set for homes and was changed at a time or later, by their names.</summary>
    internal Task<List<(string Home, string Text, Instant Changed)>> SettingsSinceAsync(Instant from, CancellationToken cancel) =>
        OfNoHomeAsync(HomeSession.IntakeRole, session => SettingRows.SinceAsync(session, from), cancel);

    /// <summary>The number of a home by its name.</summary>
    /// <exception cref="FormatException">There is none.</exception>
    public async Task<int> RequireAsync(string name, CancellationToken cancel = default) =>
        (await HomesAsync([name], cancel)).TryGetValue(name, out var home) ? home
            : throw new FormatException($"There is no home \"{name}\". Make it: chamber-club home add {name}");

    /// <summary>The name of a home.</summary>
    internal async Task<string> NameAsync(int home, CancellationToken cancel) => await AsAsync(
        home, session => session.OneAsync<string>("SELECT name FROM home WHERE key = $1", home), cancel) ?? "";

    /// <summary>Takes in what arrived for many homes in one transaction: all of it, or nothing.</summary>
    /// <param name="batches">One of each home.</param>
    /// <param name="options">The bounds of each home.</param>
    /// <param name="cancel">Ends the wait; nothing is kept then.</param>
    public Task<IReadOnlyList<HomeAppend>> AppendAsync(
        IReadOnlyList<HomeBatch> batches, StoreOptions options, CancellationToken cancel = default) => ClubFault.Told(async () =>
    {
        var readings = batches.SelectMany(one => one.Readings.Select(reading => new HomeReading(one.Home, reading))).ToList();
        await MakeMonthsAsync(readings.Select(one => one.Reading.MeasuredAt), cancel);
        await using var session = await BeginAsync(HomeSession.IntakeRole, null, cancel);
        await session.LockAsync(batches.Select(one => one.Home));
        var appended = await new ReadingAppend(session, options).AppendAsync(readings);
        foreach (var batch in batches)
        {
            await RefusalRows.AppendAsync(session, batch.Home, batch.Refusals, options.RefusalsMax);
            await LastKnownRows.KeepAsync(session, batch.Home, batch.LastKnown, options.ProbesMax);
        }

        await session.CommitAsync();
        return appended;
    });

    /// <summary>A connection of its own, for a lock that lasts as long as it does.</summary>
    internal Task<NpgsqlConnection> ConnectAsync(CancellationToken cancel) =>
        ClubFault.Told(async () => await source.OpenConnectionAsync(cancel));

    /// <summary>Puts level stretches in the place of a home's old readings, as the data file of a home does.</summary>
    /// <param name="home">Its number.</param>
    /// <param name="olderThan">Readings from then on stay as they are.</param>
    /// <param name="readingsMax">About so many are looked at before it stops.</param>
    /// <param name="cancel">Ends it; nothing of this pass stays then.</param>
    public Task<RollUpResult> RollUpAsync(int home, Instant olderThan, int readingsMax = 20_000, CancellationToken cancel = default) =>
        ClubFault.Told(async () =>
        {
            await using var session = await BeginAsync(HomeSession.RollUpRole, home, cancel);
            var result = await new ClubRollUp(session, home, readingsMax).PassAsync(olderThan);
            await session.CommitAsync();
            return result;
        });

    public ValueTask DisposeAsync() => source.DisposeAsync();

    /// <summary>Whether the database did not answer when it was asked last.</summary>
    internal bool IsAway { get; private set; }

    /// <summary>Does something with the rows of one home, in one transaction.</summary>
    internal Task<T> AsAsync<T>(int home, Func<HomeSession, Task<T>> act, CancellationToken cancel) => ClubFault.Told(async () =>
    {
        await using var session = await OpenAsync(home, cancel);
        var result = await act(session);
        await session.CommitAsync();
        return result;
    });

    /// <summary>What is new of a home.</summary>
    internal Task<HomeNews> NewsAsync(int home, Seen past, CancellationToken cancel) => ClubFault.Told(async () =>
    {
        await using var session = await OpenStillAsync(home, cancel);
        return await HomeNews.SinceAsync(session, home, past);
    });

    /// <summary>Does something at the door, in one transaction: what is found is of the home, the person or the secret that is
    /// named.</summary>
    internal Task<T> AtDoorAsync<T>(AtDoor asked, Func<HomeSession, Task<T>> act, CancellationToken cancel) => ClubFault.Told(async () =>
    {
        await using var session = await BeginAsync(HomeSession.DoorRole, asked.Home, cancel);
        await session.ExecuteAsync(
            "SELECT set_config('chamber.person', $1, true), set_config('chamber.secret', $2, true), set_config('chamber.name', $3, true)",
            asked.Person is { } person ? FormattableString.Invariant($"{person}") : "", asked.Secret ?? "", asked.Name ?? "");
        var result = await act(session);
        await session.CommitAsync();
        return result;
    });

    /// <summary>The same for whoever looks after the club: the names of homes and when they were heard, and nothing of what is in
    /// them.</summary>
    internal Task<T> AsKeeperAsync<T>(Func<HomeSession, Task<T>> act, CancellationToken cancel) =>
        OfNoHomeAsync(HomeSession.KeeperRole, act, cancel);

    /// <summary>The same for whoever learns from what homes gave: that, and not whose it is.</summary>
    internal Task<T> AsLearnerAsync<T>(Func<HomeSession, Task<T>> act, CancellationToken cancel) =>
        OfNoHomeAsync(HomeSession.LearnerRole, act, cancel);

    private Task<T> OfNoHomeAsync<T>(string role, Func<HomeSession, Task<T>> act, CancellationToken cancel) => ClubFault.Told(async () =>
    {
        await using var session = await BeginAsync(role, null, cancel);
        var result = await act(session);
        await session.CommitAsync();
        return result;
    });

    /// <summary>A connection for the keys that seal cookies, which the web server asks for without waiting.</summary>
    internal NpgsqlConnection Connect() => source.OpenConnection();

    /// <summary>A transaction on the rows of one home.</summary>
    internal Task<HomeSession> OpenAsync(int home, CancellationToken cancel) =>
        BeginAsync(HomeSession.HomeRole, home, cancel);

    /// <summary>The same, and all that it reads is of one state of the database.</summary>
    internal Task<HomeSession> OpenStillAsync(int home, CancellationToken cancel) =>
        BeginAsync(HomeSession.HomeRole, home, cancel, IsolationLevel.RepeatableRead);

    private async Task<HomeSession> BeginAsync(
        string role, int? home, CancellationToken cancel, IsolationLevel isolation = IsolationLevel.ReadCommitted)
    {
        try
        {
            var session = await HomeSession.BeginAsync(source, role, home, cancel, isolation);
            IsAway = false;
            return session;
        }
        catch (NpgsqlException problem) when (ClubFault.Of(problem).Fault == StoreFault.Away)
        {
            IsAway = true;
            throw;
        }
    }

    /// <summary>Sees to it that there is a partition for each time, in transactions of their own: what is half-made by somebody else is
    /// waited for, and nobody waits for what follows.</summary>
    internal async Task MakeMonthsAsync(IEnumerable<Instant> times, CancellationToken cancel)
    {
        foreach (var month in times.Where(ReadingTimes.Holds).Select(ReadingTimes.MonthOf).Distinct())
        {
            if (!months.ContainsKey(month))
            {
                await using var command = source.CreateCommand("SELECT make_month($1)");
                command.Parameters.Add(new() { Value = month });
                await command.ExecuteNonQueryAsync(cancel);
                months[month] = true;
            }
        }
    }
}

/// <summary>What arrived for a home.</summary>
/// <param name="Home">Its number.</param>
/// <param name="Readings">In any order.</param>
/// <param name="Refusals">What was not used.</param>
/// <param name="LastKnown">Values of unknown age, kept apart from readings.</param>
public sealed record HomeBatch(
    int Home, IReadOnlyList<Reading> Readings, IReadOnlyList<Refusal> Refusals, IReadOnlyList<Reading> LastKnown);

/// <summary>For what somebody asks at the door; what is not named is not found.</summary>
/// <param name="Home">A home's number.</param>
/// <param name="Person">The person who asks.</param>
/// <param name="Secret">What proves that they may: the SHA-256 of a link's secret, or of a cookie's.</param>
/// <param name="Name">The name of somebody who signs in.</param>
internal readonly record struct AtDoor(int? Home = null, int? Person = null, string? Secret = null, string? Name = null);

/// <summary>A reading and whose it is.</summary>
internal readonly record struct HomeReading(int Home, Reading Reading);

/// <summary>What became of the readings of one home.</summary>
public sealed record HomeAppend(int Home, AppendResult Result);
