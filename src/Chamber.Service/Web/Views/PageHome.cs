using Chamber.Core;
using Chamber.Core.Alerts;
using Chamber.Core.Climate;
using Chamber.Service.Configuration;
using Chamber.Service.Home;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>What the pages show: the same answers that the command line gives, read afresh each time. One for each open page.</summary>
internal sealed class PageHome(ChamberStore store, Settings settings, DataDirectory data, TimeProvider clock, HomeChanges changes)
{
    public TemperatureScale Scale { get; private set; } = settings.Units;

    public Settings Settings => settings;

    public DataDirectory Data => data;

    public DateTimeZone Zone { get; } = settings.Home.Zone ?? MachineZone.Find();

    public Instant Now => Instant.FromDateTimeOffset(clock.GetUtcNow());

    public LocalDate Today => Now.InZone(Zone).Date;

    public TimeProvider Clock => clock;

    /// <summary>How alerts are worded.</summary>
    public WordStyle Style => new(Scale == TemperatureScale.Fahrenheit, Zone);

    public ChamberStore Store => store;

    /// <summary>The home as it is now; the crops are read again, since their file may have changed.</summary>
    public HomeReader Read() => new(store, CropFile.Catalog(data, store), Zone) { Scale = Scale, StopBelow = settings.StopWaitingBelow };

    /// <summary>Writes something down and tells the watch.</summary>
    public T Write<T>(Func<HomeReader, Instant, T> write)
    {
        try
        {
            var written = write(Read(), Now);
            changes.Note();
            return written;
        }
        catch (RefusedException refused)
        {
            throw new BadInputException(refused.Text.Tell(Show), refused) { Kind = BadInputKind.Contradicts };
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
    public string BrokerAddress => settings.Broker.Own
        ? string.Join(", ", BrokerParts.Own(settings.Broker, data).Listeners.Select(listener => $"{listener.Address}:{listener.Port}"))
        : $"{settings.Broker.Host}:{settings.Broker.Port}";

    /// <summary>What somebody typed as a name, with the blanks that a name cannot have made into dashes.</summary>
    public static string AsName(string typed) => string.Join('-', typed.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    /// <summary>Takes over what was chosen for this browser.</summary>
    public void Choose(PageChoices choices) => Scale = choices.AsScale() ?? settings.Units;

    public string Show(Temperature temperature) => Scale.Show(temperature);

    public string Show(Instant at) => TimeText.Show(at, Zone, Now);

    /// <summary>Open alerts, the worst first.</summary>
    public IReadOnlyList<AlertAnswer> Alerts(HomeReader home)
    {
        var facts = home.Facts();
        return [.. store.Ledger.Alerts.Open()
            .Select(entry => AlertAnswer.Of(entry, facts, Style))
            .OfType<AlertAnswer>()
            .OrderByDescending(alert => alert.Severity)
            .ThenBy(alert => alert.Since)];
    }
}
