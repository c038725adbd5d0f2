using Chamber.Core;
using Chamber.Core.Alerts;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Service.Home.Watching;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>What the pages show: the same answers that the command line gives, read afresh each time. One for each open page.</summary>
internal sealed class PageHome(HomeContext present, HomeChanges changes)
{
    private HomeContext? past;
    private readonly AsyncLocal<HomeReader?> held = new();
    private HomeReader? last;

    public TemperatureScale Scale { get; private set; } = present.Settings.Units;

    /// <summary>Who writes here, and by which way: somebody at the page, until that is set.</summary>
    public Author Author { get; set; } = new("", WriteWay.Page);

    public Settings Settings => Asked.Settings;

    public DataDirectory Data => Asked.Data;

    public DateTimeZone Zone => Asked.Zone;

    /// <summary>Who keeps the home; null for one in a data file here.</summary>
    public HomeHost? Host => present.Host;

    /// <summary>The time; what is read has its own moment (<see cref="HomeReader.Now"/>). In a question that is computed more than once it
    /// is the same each time: what was loaded for a time would never be at hand for the next.</summary>
    public Instant Now => !Asked.IsAtHand && held.Value is { } home ? home.Now : Asked.Now;

    public LocalDate Today => Now.InZone(Zone).Date;

    public TimeProvider Clock => Asked.Clock;

    /// <summary>How alerts are worded.</summary>
    public WordStyle Style => new(Scale == TemperatureScale.Fahrenheit, Zone);

    /// <summary>The data file, as it is now.</summary>
    public ChamberStore Store => present.Store;

    /// <summary>The home as it is now, or the draft of it that is written in. One that is not at hand is as it was loaded for the question
    /// that is asked, or that was asked last.</summary>
    public HomeReader Read()
    {
        var home = held.Value ?? (Asked.IsAtHand ? null : last) ?? Asked.Read(Scale);
        Names = home.Ledger.Names;
        return home;
    }

    /// <summary>The answer to a question that reads the home: whatever it needs is loaded first, and no thread waits for that.</summary>
    /// <param name="question">What is computed, as often as it takes: it may write nothing.</param>
    /// <param name="cancel">Ends the wait.</param>
    public async ValueTask<T> AskAsync<T>(Func<ValueTask<T>> question, CancellationToken cancel = default)
    {
        if (Asked.IsAtHand)
        {
            return await question();
        }

        held.Value = last = await Asked.ReadAsync(Scale, past is null ? last : null, cancel);
        return await AtHand.AskAsync(question, cancel);
    }

    /// <summary>The same for one that does not wait by itself.</summary>
    public ValueTask<T> AskAsync<T>(Func<T> question, CancellationToken cancel = default) =>
        AskAsync(() => new ValueTask<T>(question()), cancel);

    /// <summary>How people see spots, probes and batches, as of the last reading of the home.</summary>
    public ShownNames Names { get; private set; } = ShownNames.None;

    /// <summary>From here on answers come from what was known then.</summary>
    /// <param name="asOf">A time as a person writes it.</param>
    /// <exception cref="BadInputException">It is no time, or it is in the future.</exception>
    public async ValueTask LookBackAsync(string asOf) =>
        past = await present.AsOfAsync(BadInputException.In("asOf", () => TimeText.Known(asOf, Zone, present.Now)));

    private HomeContext Asked => past ?? present;

    /// <summary>Writes something down and tells the watch.</summary>
    /// <param name="write">What is done, as often as it takes: it may change nothing but the home it is handed.</param>
    public async Task<T> WriteAsync<T>(Func<HomeReader, Instant, T> write) => (await WrittenAsync(write)).Answer;

    /// <summary>The same for what has no answer.</summary>
    public Task WriteAsync(Action<HomeReader, Instant> write) => WriteAsync((home, now) =>
    {
        write(home, now);
        return true;
    });

    /// <summary>Writes something down for somebody at the page.</summary>
    /// <returns>Why it was refused; null when it is written down.</returns>
    public async Task<string?> TryWriteAsync(Action<HomeReader, Instant> write) => (await TryAsync(write)).Refused;

    /// <summary>The same, with the entries that were written.</summary>
    public async Task<(string? Refused, IReadOnlyList<FactEntry> Entries)> TryAsync(Action<HomeReader, Instant> write)
    {
        try
        {
            var (_, entries) = await WrittenAsync((home, now) =>
            {
                write(home, now);
                return true;
            });
            return (null, entries);
        }
        catch (Exception problem) when (problem is BadInputException or FormatException or StoreException)
        {
            return (problem.Message, []);
        }
    }

    /// <summary>Does something in the data file that is no fact.</summary>
    /// <returns>Why it could not be done; null when it is.</returns>
    public string? Try(Action<ChamberStore> act)
    {
        try
        {
            act(Store);
            changes.Note();
            return null;
        }
        catch (StoreException problem)
        {
            return problem.Message;
        }
    }

    private async Task<(T Answer, IReadOnlyList<FactEntry> Entries)> WrittenAsync<T>(Func<HomeReader, Instant, T> write)
    {
        var now = Now;
        try
        {
            var written = await Asked.WriteAsync(home => write(held.Value = home.As(Author), now), Scale);
            changes.Note();
            return written;
        }
        catch (RefusedException refused)
        {
            throw new BadInputException(refused.Text.Tell(Show), refused) { Kind = BadInputKind.Contradicts, Field = refused.Field };
        }
    }

    /// <summary>Where sensors reach the broker, as somebody would type it into them.</summary>
    public string BrokerAddress => Host is { } host ? host.Broker : Settings.Broker.Own
        ? string.Join(", ", BrokerParts.Own(Settings.Broker, Data).Listeners.Select(listener => $"{listener.Address}:{listener.Port}"))
        : $"{Settings.Broker.Host}:{Settings.Broker.Port}";

    /// <summary>What somebody typed as a name, with the blanks that a name cannot have made into dashes.</summary>
    public static string AsName(string typed) => string.Join('-', typed.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    /// <summary>Takes over what was chosen for this browser.</summary>
    public void Choose(PageChoices choices) => Scale = choices.AsScale() ?? Settings.Units;

    public string Show(Temperature temperature) => Scale.Show(temperature);

    public string Show(Instant at) => TimeText.Show(at, Zone, Now);

    /// <summary>Open alerts, what costs most by waiting first.</summary>
    public IReadOnlyList<AlertAnswer> Alerts(HomeReader home) => [.. new HomeAlerts(home, Style).Open().Select(one => one.Words)];
}
