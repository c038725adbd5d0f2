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

    public TemperatureScale Scale { get; private set; } = present.Settings.Units;

    /// <summary>Who writes here, and by which way: somebody at the page, until that is set.</summary>
    public Author Author { get; set; } = new("", WriteWay.Page);

    public Settings Settings => Asked.Settings;

    public DataDirectory Data => Asked.Data;

    public DateTimeZone Zone => Asked.Zone;

    /// <summary>The time; what is read has its own moment (<see cref="HomeReader.Now"/>).</summary>
    public Instant Now => Asked.Now;

    public LocalDate Today => Now.InZone(Zone).Date;

    public TimeProvider Clock => Asked.Clock;

    /// <summary>How alerts are worded.</summary>
    public WordStyle Style => new(Scale == TemperatureScale.Fahrenheit, Zone);

    /// <summary>The data file, as it is now.</summary>
    public ChamberStore Store => present.Store;

    /// <summary>The home as it is now.</summary>
    public HomeReader Read()
    {
        var home = Asked.Read(Scale);
        Names = home.Ledger.Names;
        return home;
    }

    /// <summary>How people see spots, probes and batches, as of the last reading of the home.</summary>
    public ShownNames Names { get; private set; } = ShownNames.None;

    /// <summary>From here on answers come from what was known then.</summary>
    /// <param name="asOf">A time as a person writes it.</param>
    /// <exception cref="BadInputException">It is no time, or it is in the future.</exception>
    public void LookBack(string asOf)
    {
        past = present.AsOf(BadInputException.In("asOf", () => TimeText.Known(asOf, Zone, present.Now)));
    }

    private HomeContext Asked => past ?? present;

    /// <summary>Writes something down and tells the watch.</summary>
    public T Write<T>(Func<HomeReader, Instant, T> write)
    {
        try
        {
            var written = write(Read().As(Author), Now);
            changes.Note();
            return written;
        }
        catch (RefusedException refused)
        {
            throw new BadInputException(refused.Text.Tell(Show), refused) { Kind = BadInputKind.Contradicts, Field = refused.Field };
        }
    }

    /// <summary>Writes something down for somebody at the page.</summary>
    /// <returns>Why it was refused; null when it is written down.</returns>
    public string? TryWrite(Action<HomeReader, Instant> write)
    {
        try
        {
            Write((home, now) =>
            {
                write(home, now);
                return true;
            });
            return null;
        }
        catch (Exception problem) when (problem is BadInputException or FormatException or StoreException)
        {
            return problem.Message;
        }
    }

    /// <summary>Where sensors reach the broker, as somebody would type it into them.</summary>
    public string BrokerAddress => Settings.Broker.Own
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
