using System.CommandLine;
using Chamber.Service.Configuration;
using Chamber.Service.Output;
using NodaTime;

namespace Chamber.Service.Commands;

/// <summary>One run of one verb: what was typed, where its data is, how it answers. Parts are made when first asked for.</summary>
internal sealed class Invocation : IDisposable
{
    private readonly Lazy<DataDirectory> data;
    private readonly Lazy<Settings> settings;
    private readonly Lazy<Screen> screen;

    public Invocation(ParseResult parse, CancellationToken cancel)
    {
        Parse = parse;
        Cancel = cancel;
        data = new(() => DataDirectory.Choose(parse.GetValue(CommonOptions.Data), Around.Variable));
        settings = new(() => SettingsFile.Load(Data, Around.Variables));
        screen = new(() => Screen.On(Around, parse.GetValue(CommonOptions.Units) ?? Settings.Units));
    }

    /// <summary>Set for the flow of calls that runs one command line, so that tests can run several at once.</summary>
    public static AsyncLocal<Surroundings?> Surroundings { get; } = new();

    public ParseResult Parse { get; }

    /// <summary>Cancelled by Ctrl-C or SIGTERM.</summary>
    public CancellationToken Cancel { get; }

    public Surroundings Around { get; } = Surroundings.Value ?? Commands.Surroundings.OfProcess();

    public DataDirectory Data => data.Value;

    /// <summary>The settings in force.</summary>
    /// <exception cref="BadInputException">chamber.json or the environment has something that cannot be used.</exception>
    public Settings Settings => settings.Value;

    /// <summary>The home's time zone.</summary>
    public DateTimeZone Zone => Settings.Home.Zone ?? MachineZone();

    /// <summary>Answers for people.</summary>
    public Screen Screen => screen.Value;

    /// <summary>Whether a program asked (<c>--json</c>); then only <see cref="Answer"/> writes.</summary>
    public bool Json => Parse.GetValue(CommonOptions.Json);

    public Instant Now => Instant.FromDateTimeOffset(Around.Clock.GetUtcNow());

    /// <summary>Writes a verb's answer: as JSON when a program asked, otherwise as the words and tables that <paramref name="show"/> writes.</summary>
    public void Answer<T>(T answer, Action<Screen> show)
    {
        if (Json)
        {
            JsonText.Write(Around.Out, answer);
            return;
        }

        show(Screen);
    }

    public void Dispose()
    {
    }

    private static DateTimeZone MachineZone()
    {
        try
        {
            return DateTimeZoneProviders.Tzdb.GetSystemDefault();
        }
        catch (NodaTime.TimeZones.DateTimeZoneNotFoundException)
        {
            // A machine without a named zone, as in a bare container.
            return DateTimeZone.Utc;
        }
    }
}
