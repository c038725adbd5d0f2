using System.Collections.Concurrent;
using DbUp;
using Npgsql;

namespace Chamber.Club.Store;

/// <summary>
/// The database of a club on PostgreSQL 15 or later: facts and readings of many homes, each seen by itself alone. Any thread may use it,
/// and any number of processes at once. What fails there is a <see cref="StoreException"/>, and then nothing was written.
/// </summary>
public sealed class ClubDatabase : IAsyncDisposable
{
    private readonly NpgsqlDataSource source;
    private readonly ConcurrentDictionary<DateOnly, bool> months = new();

    private ClubDatabase(NpgsqlDataSource source) => this.source = source;

    /// <summary>Opens a database and brings its tables up to date.</summary>
    /// <param name="address">As Npgsql takes it: <c>Host=...;Database=...;Username=...</c>. The user owns the tables; it needs the right
    /// to make roles once, or the roles <c>chamber_home</c> and <c>chamber_intake</c> made for it.</param>
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
    public IHomeStore Home(int home, StoreOptions? options = null) => new ClubHomeStore(this, home, options ?? new());

    /// <summary>Takes in readings of many homes in one transaction, for whoever receives them for the club.</summary>
    /// <param name="readings">In any order.</param>
    /// <param name="options">The bounds of each home.</param>
    /// <param name="cancel">Ends the wait; nothing is kept then.</param>
    public Task<IReadOnlyList<HomeAppend>> AppendAsync(
        IReadOnlyList<HomeReading> readings, StoreOptions options, CancellationToken cancel = default) => ClubFault.Told(async () =>
    {
        await MakeMonthsAsync(readings.Select(one => one.Reading.MeasuredAt), cancel);
        await using var session = await OpenAsync(HomeSession.IntakeRole, null, cancel);
        var appended = await new ReadingAppend(session, options).AppendAsync(readings);
        await session.CommitAsync();
        return appended;
    });

    public ValueTask DisposeAsync() => source.DisposeAsync();

    /// <summary>A transaction on the rows of one home.</summary>
    internal Task<HomeSession> OpenAsync(int home, CancellationToken cancel) => OpenAsync(HomeSession.HomeRole, home, cancel);

    /// <summary>Sees to it that there is a partition for each time, in transactions of their own: what is half-made by somebody else is
    /// waited for, and nobody waits for what follows.</summary>
    internal async Task MakeMonthsAsync(IEnumerable<NodaTime.Instant> times, CancellationToken cancel)
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

    private Task<HomeSession> OpenAsync(string role, int? home, CancellationToken cancel) =>
        HomeSession.BeginAsync(source, role, home, cancel);
}

/// <summary>A reading and whose it is.</summary>
public readonly record struct HomeReading(int Home, Chamber.Core.Climate.Reading Reading);

/// <summary>What became of the readings of one home.</summary>
public sealed record HomeAppend(int Home, AppendResult Result);
