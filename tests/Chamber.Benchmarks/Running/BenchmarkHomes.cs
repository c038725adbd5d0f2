using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Probes;
using Chamber.Storage.Facts;
using Chamber.Storage.Moving;
using Chamber.Testing;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Benchmarks.Running;

/// <summary>Homes of which two programs are asked the same, made by the older one, since a newer one reads them too.</summary>
internal static class BenchmarkHomes
{
    private static readonly Author Ana = new("Ana", WriteWay.Page);

    /// <summary>The demo's two weeks; and the same after ten busy years: 20,000 entries of <see cref="FactsBenchmark"/>, and a reading an
    /// hour of the spot where all was sown.</summary>
    /// <returns>Each with its name and data directory.</returns>
    public static async Task<IReadOnlyList<(string Name, string Data)>> MakeIn(TempFolder folder, string program)
    {
        var (weeks, years, moved) = (folder.File("weeks"), folder.File("years"), folder.File("moved"));
        await Live(program, ["demo", "--data", weeks, "--speed", "1", "--page-port", Number(FreePort.Next()), "--broker-port",
            Number(FreePort.Next())]);
        await Live(program, ["run", "--data", weeks]);
        await Ask(program, ["export", "--all", "--out", moved, "--data", weeks]);
        WriteYears(moved);
        await Ask(program, ["import-home", moved, "--data", years]);
        await Live(program, ["run", "--data", years]);
        return [("demo", weeks), ("years", years)];
    }

    // A program whose story breaks off at some hours of the day ends before it is ready. What it wrote by then is a home too.
    private static async Task Live(string program, string[] arguments)
    {
        await using var running = RunningProgram.Start(program, arguments);
        try
        {
            await running.Line("Chamber is ready");
            running.AskToStop();
        }
        catch (InvalidOperationException) when (running.HasExited)
        {
            Console.WriteLine($"{arguments[0]}: {running.Errors.Trim()}");
        }

        await running.End();
    }

    private static async Task Ask(string program, string[] arguments) =>
        (await RunningProgram.Run(program, arguments, patience: TimeSpan.FromMinutes(10))).Succeeded();

    private static void WriteYears(string moved)
    {
        var years = FactsBenchmark.Entries();
        var path = Path.Combine(moved, HomeFolder.Facts);
        FactEntry[] all =
        [
            .. years,
            Entry(new ProbeSetUp(new("shelf-mix"), Measurand.Media)),
            Entry(new ProbePlaced(new("shelf-mix"), new("shelf"))),
            .. File.ReadLines(path).Select(FactLine.Read),
        ];

        // The acts of both keep together, and numbers go on.
        File.WriteAllLines(path, all.Select((entry, i) => FactLine.Write(entry with
        {
            Number = i + 1,
            Act = i < years.Count + 2 ? i + 1 : entry.Act + years.Count + 2,
        })));
        File.AppendAllLines(Path.Combine(moved, HomeFolder.Readings), Readings(years[0].At, years[^1].At));
    }

    private static FactEntry Entry(Fact fact) => new(1, 1, fact, FactsBenchmark.Begin, FactsBenchmark.Begin, Ana);

    private static IEnumerable<string> Readings(Instant from, Instant to)
    {
        for (var at = from; at < to; at += Duration.FromHours(1))
        {
            var hour = at.InUtc().Hour;
            var time = InstantPattern.General.Format(at);
            yield return string.Create(CultureInfo.InvariantCulture,
                $"shelf-mix,{time},{time},payload,{22 + 3 * Math.Sin(Math.Tau * hour / 24):F2},,,");
        }
    }

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);
}
