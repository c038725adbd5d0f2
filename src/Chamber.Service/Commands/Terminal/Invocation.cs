using System.CommandLine;
using Chamber.Core.Cautions;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Service.Configuration;
using Chamber.Service.Demo;
using Chamber.Service.Health;
using Chamber.Service.Home;
using Chamber.Service.Home.Writing;
using Chamber.Storage;
using Chamber.Storage.Writing;
using NodaTime;

namespace Chamber.Service.Commands.Terminal;

/// <summary>One run of one verb: what was typed, where its data is, how it answers. Parts are made when first asked for.</summary>
internal sealed class Invocation : IDisposable
{
    private readonly Lazy<DataDirectory> data;
    private readonly Lazy<TimeProvider> clock;
    private readonly Lazy<Settings> settings;
    private readonly Lazy<Screen> screen;
    private readonly Lazy<CropCatalog> catalog;
    private readonly Lazy<Instant?> asOf;
    private ChamberStore? store;
    private HomeContext? context;

    public Invocation(ParseResult parse, CancellationToken cancel)
    {
        Parse = parse;
        Cancel = cancel;
        data = new(() => DataDirectory.Choose(parse.GetValue(CommonOptions.Data), CommandContext.Variable));
        asOf = new(() => parse.GetValue(CommonOptions.AsOf) is { } typed ? AsOf(typed) : null);
        clock = new(() => asOf.Value is { } known ? new HeldClock(known) : PresentClock());
        settings = new(() => SettingsFile.Load(Data, CommandContext.Variables));
        catalog = new(() => File.Exists(Data.Database) ? Home.Catalog : CropFile.Catalog(Data, [], (_, _) => { }));
        screen = new(() => Screen.On(CommandContext, Scale));
    }

    /// <summary>Set for the flow of calls that runs one command line, so that tests can run several at once.</summary>
    public static AsyncLocal<CommandContext?> AmbientContext { get; } = new();

    public ParseResult Parse { get; }

    /// <summary>Cancelled by Ctrl-C or SIGTERM.</summary>
    public CancellationToken Cancel { get; }

    public CommandContext CommandContext { get; } = AmbientContext.Value ?? Terminal.CommandContext.OfProcess();

    public DataDirectory Data => data.Value;

    /// <summary>The settings in force.</summary>
    /// <exception cref="BadInputException">chamber.json or the environment has something that cannot be used.</exception>
    public Settings Settings => settings.Value;

    /// <summary>Whether an answer of an earlier time is asked for (<c>--as-of</c>).</summary>
    public bool IsPast => asOf.Value is not null;

    /// <summary>Whether the service runs, without which nothing is watched.</summary>
    public bool IsWatched => !ServicePulse.IsSilent(Store.Ledger, Now);

    /// <summary>The home's time zone.</summary>
    public DateTimeZone Zone => Settings.Zone;

    /// <summary>The database, made when there is none, for whoever writes or asks what no reader knows. Works whether or not the
    /// service runs.</summary>
    /// <exception cref="StoreException">It cannot be used.</exception>
    public ChamberStore Store => store ??= OpenStore();

    /// <summary>The crops that are known here: those shipped, with the user's own over them.</summary>
    public CropCatalog Catalog => catalog.Value;

    /// <summary>What makes readers of this home.</summary>
    public HomeContext Context => context ??= asOf.Value is { } known ? AtHand.Of(Present.AsOfAsync(known)) : Present;

    private HomeContext Present => new(Store, Settings, Data, PresentClock());

    /// <summary>This home, read from the database.</summary>
    public HomeReader Home => Context.Read(Json ? TemperatureScale.Celsius : Scale);

    /// <summary>Who types.</summary>
    public Author Author { get; } = new(OwnUser.Name, WriteWay.CommandLine);

    /// <summary>This home, for whoever types and writes something down.</summary>
    public HomeReader Writing
    {
        get
        {
            KnownTime.Require(Now);
            return Home.As(Author);
        }
    }

    /// <summary>The pen of whoever types.</summary>
    public HomePen Pen => Writing.Writing(Now);

    /// <summary>What is recorded of batches.</summary>
    public HomeBatches Batches => new(Writing, Now);

    /// <summary>What is set up of spots and probes.</summary>
    public HomeSpots Spots => new(Writing, Now);

    /// <summary>What is recorded of seed.</summary>
    public HomeLots Lots => new(Writing, Now);

    /// <summary>What is found out about the errors of probes.</summary>
    public CalibrationRuns CalibrationRuns => new(Writing, Now);

    /// <summary>What was written down, by whom and when, and putting it right.</summary>
    public HomeHistory History => new(Writing, Now);

    /// <summary>How temperatures are shown to this person.</summary>
    public TemperatureScale Scale => Parse.GetValue(CommonOptions.Units) ?? Settings.Units;

    /// <summary>Answers for people.</summary>
    public Screen Screen => screen.Value;

    /// <summary>Whether a program asked (<c>--json</c>); then only its answer is written.</summary>
    public bool Json => Parse.GetValue(CommonOptions.Json);

    /// <summary>The time of this home: the machine's, or that of a demo; with <c>--as-of</c> it stands there.</summary>
    public TimeProvider Clock => clock.Value;

    public Instant Now => Instant.FromDateTimeOffset(Clock.GetUtcNow());

    /// <summary>What a person typed as a time, in the home's zone; now when nothing was typed.</summary>
    public Instant TimeOf(string? typed) => typed is null ? Now : TimeText.Parse(typed, Zone, Now);

    /// <summary>What a person typed as a day; null when nothing was typed.</summary>
    public LocalDate? DayOf(string name, string? typed)
    {
        try
        {
            return typed is null ? null : DayText.Parse(typed, Now.InZone(Zone).Date);
        }
        catch (FormatException problem)
        {
            throw new BadInputException($"{name} {problem.Message}", problem);
        }
    }

    /// <summary>A time as it is shown to this person.</summary>
    public string Show(Instant at) => TimeText.Show(at, Zone, Now);

    /// <summary>Writes a verb's answer: as JSON when a program asked, otherwise as the words and tables that <paramref name="show"/>
    /// writes.</summary>
    public void Answer<T>(T answer, Action<Screen> show)
    {
        if (Json)
        {
            JsonText.Write(CommandContext.Out, answer);
            return;
        }

        show(Screen);
        TellHours();
    }

    /// <summary>The answer of one thing with its cautions: a program gets them as <c>cautions</c>, people read them last.</summary>
    public void Answer<T>(T answer, IReadOnlyList<ShownCaution> cautions, Action<Screen> show) => Answer(answer, [], cautions, show);

    /// <summary>The same with what is odd about it: a program gets that as <c>warnings</c>.</summary>
    public void Answer<T>(T answer, IReadOnlyList<string> warnings, IReadOnlyList<ShownCaution> cautions, Action<Screen> show)
    {
        if (Json)
        {
            JsonText.Write(CommandContext.Out, answer,
                ("warnings", warnings.Count > 0 ? warnings : null),
                ("cautions", cautions.Select(shown => CautionAnswer.Of(shown.Caution))));
            return;
        }

        show(Screen);
        foreach (var warning in warnings)
        {
            Screen.Warn(warning);
        }

        TellHours();
        Screen.Warn(cautions);
    }

    // A day is taken for one of its hours, which may matter: it is said which.
    private void TellHours()
    {
        foreach (var option in Parse.CommandResult.Command.Options.OfType<Option<string?>>().Where(option => option.HelpName == "TIME"))
        {
            if (Parse.GetValue(option) is { } typed && TimeText.HourTaken(typed, Zone, Now) is { } taken)
            {
                Screen.Aside($"{option.Name} {typed} names no hour; taken as {Show(taken)}. To say one: \"{typed} 07:40\"");
            }
        }
    }

    /// <summary>Tells on standard error what lies beyond bounds in the file, as far as this run has met it.</summary>
    public void TellLeftOut()
    {
        foreach (var line in store?.LeftOut ?? [])
        {
            CommandContext.Error.WriteLine($"chamber: {line}");
        }
    }

    public void Dispose()
    {
        store?.Dispose();
    }

    private ChamberStore OpenStore()
    {
        Data.Make();
        return ChamberStore.Open(Data.Database);
    }

    private TimeProvider PresentClock() => DemoClock.Find(Data, CommandContext.Clock) ?? CommandContext.Clock;

    private Instant AsOf(string typed)
    {
        try
        {
            return TimeText.Known(typed, Zone, Instant.FromDateTimeOffset(PresentClock().GetUtcNow()));
        }
        catch (FormatException problem)
        {
            throw new BadInputException($"--as-of: {problem.Message}", problem);
        }
    }
}
