using System.CommandLine;
using Chamber.Core.Climate;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using Chamber.Service.Import;
using Spectre.Console;

namespace Chamber.Service.Commands.Spots;

/// <summary>Takes in a logger's CSV file. Doing it again adds nothing.</summary>
internal static class ImportVerb
{
    public static Verb Create()
    {
        var file = new Argument<string>("file") { Description = "The CSV file, of any size." };
        var probe = Typed.Option<ProbeId?>("--probe", "PROBE", "The probe, if no column names it.",
            text => new ProbeId(text));
        var refused = new Option<string?>("--refused") { HelpName = "FILE",
            Description = "Write each refused line to this file, with its number and reason." };
        var sure = new Option<bool>("--sure") { Description = "Take the units as they are, even where a value looks like the other one." };
        var dry = new Option<bool>("--dry-run") {
            Description = "Write nothing; show how the first lines are understood, and what is refused.",
        };
        var options = new LayoutOptions();
        var verb = new Verb(
            "import",
            "Imports a logger's CSV file. Importing it twice adds nothing.",
            "chamber import shelf.csv --probe shelf",
            "chamber import shelf.csv --probe shelf --dry-run",
            "chamber import log.csv --probe mat --delimiter \";\" --decimal , --time \"dd.MM.yyyy HH:mm\" --column at=Zeit --column "
                + "temperature=Temp --unit temperature=C",
            "chamber import log.csv --layout logger.json") { file, probe, refused, sure, dry };
        options.AddTo(verb);
        return verb.Does(invocation =>
        {
            var parse = invocation.Parse;
            var path = parse.GetValue(file)!;
            var (layout, understood) = LayoutDetection.Of(path, options.Read(parse), parse.GetValue(probe) is not null, invocation.Zone.Id);
            using var source = LoggerFile.Open(path, layout,
                new(invocation.Zone, invocation.Now, parse.GetValue(probe), parse.GetValue(sure)));
            if (parse.GetValue(dry))
            {
                var trial = ImportTrial.Of(source, path, understood, invocation.Cancel);
                invocation.Answer(trial, screen => ShowTrial(screen, invocation, trial));
                return ExitCode.Done;
            }

            using var rest = parse.GetValue(refused) is { } name ? Writer(name) : null;
            var run = new ImportRun(invocation.Store, new(invocation.Store.Ledger.Settings, path, layout, parse.GetValue(probe)?.Text),
                rest);
            var summary = WithProgress(invocation, progress => run.Run(source, path, progress, invocation.Cancel)) with
            {
                Understood = understood,
            };
            invocation.Answer(summary, screen => Show(screen, invocation, summary, parse.GetValue(refused)));
            return summary.New + summary.Filled + summary.Known == 0 && summary.RefusedLines > 0 ? ExitCode.Failed : ExitCode.Done;
        });
    }

    private static StreamWriter Writer(string path)
    {
        try
        {
            return new(path);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"--refused {path} cannot be written: {problem.Message}", problem);
        }
    }

    private static ImportSummary WithProgress(Invocation invocation, Func<Action<double>, ImportSummary> run)
    {
        if (invocation.Json || !invocation.Screen.IsTerminal)
        {
            return run(_ => { });
        }

        return invocation.Screen.Console.Progress()
            .Columns(new TaskDescriptionColumn(), new ProgressBarColumn(), new PercentageColumn(), new RemainingTimeColumn())
            .AutoClear(true)
            .Start(bars =>
            {
                var bar = bars.AddTask("Taking in", maxValue: 1);
                return run(done => bar.Value = done);
            });
    }

    private static void Show(Screen screen, Invocation invocation, ImportSummary summary, string? refusedFile)
    {
        screen.Headline($"{Count(summary.New, "reading")} taken in from {Count(summary.Lines, "line")} of {summary.File}.");
        if (summary.Known + summary.Filled > 0)
        {
            screen.Say($"{Count(summary.Known, "reading")} were known "
                + $"already{(summary.Filled > 0 ? $", {summary.Filled} got a quantity that was missing" : string.Empty)}.");
        }

        ShowUnderstood(screen, summary.Understood, summary.UnusedColumns);
        if (summary.RefusedLines > 0)
        {
            screen.Warn($"{Count(summary.RefusedLines, "line")} refused, whole or in part:");
            ShowKinds(screen, summary.RefusedKinds);
            screen.Say(refusedFile is null ? "Each of them, with its number, in a file: --refused FILE"
                : $"Each of them is in {refusedFile}.");
        }

        foreach (var unplaced in summary.Unplaced)
        {
            var span = unplaced.First == unplaced.Last ? invocation.Show(unplaced.First)
                : $"{invocation.Show(unplaced.First)} to {invocation.Show(unplaced.Last)}";
            screen.Warn(unplaced.Count == 1
                ? $"1 reading of {unplaced.Probe} ({span}) counts for no spot: the probe was on none then."
                : $"{Count(unplaced.Count, "reading")} of {unplaced.Probe} ({span}) count for no spot: the probe was on none then.");
            screen.Say($"If it stood {(unplaced.Spot is { } spot ? $"on {spot}" : "on a spot")} then: "
                + $"{UnplacedReadings.Fix(unplaced.Probe, unplaced.Spot?.Text ?? "SPOT", unplaced.First, invocation.Zone)}");
        }
    }

    private static void ShowTrial(Screen screen, Invocation invocation, ImportTrial trial)
    {
        screen.Headline($"Nothing was taken in: {Count(trial.Readings, "reading")} would be, from {Count(trial.Lines, "line")} of "
            + $"{trial.File}.");
        ShowUnderstood(screen, trial.Understood, trial.UnusedColumns);
        screen.Table([">Line", "Probe", "When", ">Temperature", ">Humidity", ">Moisture"], trial.First.Select(line => new[]
        {
            line.Line.ToString(System.Globalization.CultureInfo.InvariantCulture),
            line.Reading.Probe.Text,
            invocation.Show(line.Reading.MeasuredAt),
            line.Reading.Temperature is { } temperature ? screen.Show(temperature) : "-",
            line.Reading.Humidity is { } humidity ? humidity.ToString() : "-",
            line.Reading.Moisture is { } moisture ? moisture.ToString() : "-",
        }));
        if (trial.RefusedKinds.Count > 0)
        {
            screen.Warn("What would be refused:");
            ShowKinds(screen, trial.RefusedKinds);
        }
    }

    private static void ShowUnderstood(Screen screen, IReadOnlyList<string> understood, IReadOnlyList<string> unused)
    {
        if (understood.Count > 0)
        {
            screen.Say($"Taken from the file: {string.Join("; ", understood)}.");
        }

        if (unused.Count > 0)
        {
            screen.Say($"Nothing is taken from {string.Join(", ", unused.Select(name => $"\"{name}\""))}. "
                + "To use a column: --column WHAT=NAME");
        }
    }

    private static void ShowKinds(Screen screen, IReadOnlyList<RefusalGroup> kinds) => screen.Table(
        [">Lines", "What", "Reason", ">First", "Value there", "What to do"], kinds.Select(kind => new[]
        {
            kind.Lines.ToString("#,0", System.Globalization.CultureInfo.InvariantCulture),
            kind.Quantity ?? "line",
            Choice.Words(kind.Reason),
            kind.FirstLine.ToString(System.Globalization.CultureInfo.InvariantCulture),
            kind.Raw,
            kind.Fix,
        }));

    private static string Count(long number, string what) =>
        string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{number:#,0} {what}{(number == 1 ? string.Empty : "s")}");
}

/// <summary>The options that say how a file is written; each wins over the layout file.</summary>
internal sealed class LayoutOptions
{
    private readonly Option<string?> layout =
        new("--layout") { HelpName = "FILE", Description = "A JSON file that says the same as the options below: delimiter, decimal, skip, "
        + "header, time, zone, columns, units." };
    private readonly Option<string?> delimiter =
        new("--delimiter") { HelpName = "SIGN", Description = "What separates the columns. Default: taken from the header." };
    private readonly Option<string?> @decimal = new("--decimal") { HelpName = "SIGN",
        Description = "The decimal sign. Default: taken from the file." };
    private readonly Option<int?> skip = new("--skip") { HelpName = "N",
        Description = "Lines to skip before the header. Default: up to the first line that names columns." };
    private readonly Option<bool> noHeader = new("--no-header") { Description = "There is no header line; columns are numbered from 1." };
    private readonly Option<string?> time = new("--time") { HelpName = "FORM",
        Description = "rfc3339, epoch-seconds, epoch-milliseconds, or a pattern such as \"dd.MM.yyyy HH:mm\". Default: taken from the "
            + "file." };
    private readonly Option<string?> zone =
        new("--zone") { HelpName = "ZONE",
            Description = "The zone of times without an offset: Europe/Berlin or +02:00. Default: the home's." };
    private readonly Option<string[]> columns = new("--column") { HelpName = "WHAT=NAME",
        Description = "Which column holds what: at (date+time for two columns), probe, temperature, humidity, moisture, battery. Default: "
            + "by the usual names." };
    private readonly Option<string[]> units =
        new("--unit") { HelpName = "WHAT=UNIT", Description = "The unit of a quantity: temperature=C, temperature=F, humidity=%." };

    public void AddTo(Command verb)
    {
        foreach (var option in new Option[] { layout, delimiter, @decimal, skip, noHeader, time, zone, columns, units })
        {
            verb.Add(option);
        }
    }

    public CsvLayout Read(ParseResult parse)
    {
        var basis = parse.GetValue(layout) is { } file ? CsvLayout.Read(file) : new();
        var told = basis with
        {
            Delimiter = parse.GetValue(delimiter) ?? basis.Delimiter,
            Decimal = parse.GetValue(@decimal) ?? basis.Decimal,
            Skip = parse.GetValue(skip) ?? basis.Skip,
            Header = basis.Header && !parse.GetValue(noHeader),
            Time = parse.GetValue(time) ?? basis.Time,
            Zone = parse.GetValue(zone) ?? basis.Zone,
            Columns = Pairs(basis.Columns, parse.GetValue(columns) ?? [], "--column"),
            Units = Pairs(basis.Units, parse.GetValue(units) ?? [], "--unit"),
            DecimalTold = parse.GetValue(@decimal) is not null,
            TimeTold = parse.GetValue(time) is not null,
            IsFile = parse.GetValue(layout) is not null,
        };
        BadInputException.In("skip", () => Core.Bounds.LinesSkipped.Require(told.Skip));
        return told.Decimal is "." or ","
            ? told
            : throw new BadInputException($"--decimal {told.Decimal}: write . or ,");
    }

    private static Dictionary<string, string> Pairs(IReadOnlyDictionary<string, string> basis, string[] told, string option)
    {
        var pairs = new Dictionary<string, string>(basis, StringComparer.Ordinal);
        foreach (var pair in told)
        {
            var at = pair.IndexOf('=', StringComparison.Ordinal);
            if (at <= 0 || at == pair.Length - 1)
            {
                throw new BadInputException($"{option} {pair}: write WHAT=NAME, such as temperature=Temp.");
            }

            pairs[pair[..at]] = pair[(at + 1)..];
        }

        return pairs;
    }
}
