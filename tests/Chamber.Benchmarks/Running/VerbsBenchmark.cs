using Chamber.Testing;

namespace Chamber.Benchmarks.Running;

/// <summary>
/// Two published programs, an older and a newer one, are asked the same questions of the same homes in turns: what a question costs now, as
/// a multiple of what it cost then. Processor time, the least of all rounds, and the middle of the ratios of the rounds. Given one program
/// twice, it shows what is noise.
/// </summary>
internal static class VerbsBenchmark
{
    // A question that takes seconds is asked less often.
    private const int RoundsMax = 9;
    private const int RoundsMin = 3;
    private const double SecondsEnough = 20;

    private static readonly string[] Questions =
    [
        "about", "crops", "crops tomato", "spots", "spots --crop tomato", "probes", "place", "batches", "todo", "week", "lots",
        "forecast --crop basil --spot boiler-cupboard", "warmth --batch T1", "review T1", "compare --batches T1 B1", "replay T1", "learned",
        "hindsight", "season", "plan --plants 12 --lot tomato-shop", "dates tomato:12 basil:6 --last-frost 2027-05-10", "alerts",
        "history", "history batch T1", "refusals", "notices", "cautions", "look T1 7", "undo", "export", "export --readings --out OUT",
        "export --all --out OUT",
    ];

    public static async Task<int> Run(string[] arguments)
    {
        if (arguments is not [var older, var newer, .. var rest])
        {
            await Console.Error.WriteLineAsync("Name the older and the newer program, each in its published folder; then, if you like, "
                + "demo or years for one home alone, and the only verbs to ask.");
            return 2;
        }

        using var folder = new TempFolder();
        var homes = await BenchmarkHomes.MakeIn(folder, older);
        var verbs = rest.Except(homes.Select(home => home.Name)).ToArray();
        foreach (var (name, home) in homes.Where(home => rest.Length == verbs.Length || rest.Contains(home.Name)))
        {
            Measure.Say($"{name,-52} {"older",8} {"newer",8} {"ratio",6} {"middle",6} {"from",5} {"to",5}");
            var (before, after) = (Copy(home, folder.File($"{name}-older")), Copy(home, folder.File($"{name}-newer")));
            foreach (var question in Questions.Where(one => verbs.Length == 0 || verbs.Contains(one.Split(' ')[0])))
            {
                await Compare(question, (older, before), (newer, after), folder.File("out"));
            }
        }

        return 0;
    }

    private static async Task Compare(
        string question, (string Program, string Data) older, (string Program, string Data) newer, string folder)
    {
        var words = question.Split(' ');
        var (before, after) = (new List<double>(), new List<double>());
        for (var round = 0; round < RoundsMin || (round < RoundsMax && before.Sum() < SecondsEnough); round++)
        {
            // Who begins changes, so that neither always finds the files in memory.
            foreach (var isOlder in round % 2 == 0 ? [true, false] : new[] { false, true })
            {
                var (program, data) = isOlder ? older : newer;
                if (words is ["undo"])
                {
                    // Each is an act of its own, while the same count within a minute is one look.
                    await ProcessorTime.Of(program, ["water", "T1", "--data", data]);
                }

                (isOlder ? before : after).Add(await ProcessorTime.Of(program, [.. words.Select(word => word == "OUT" ? folder : word),
                    "--data", data]));
                if (Directory.Exists(folder))
                {
                    Directory.Delete(folder, recursive: true);
                }
            }
        }

        double[] ratios = [.. after.Zip(before, (now, then) => now / then).Order()];
        var (least, middle) = (after.Min() / before.Min(), ProcessorTime.Middle(ratios));
        Measure.Say(
            $"{question,-52} {before.Min() * 1000,5:F0} ms {after.Min() * 1000,5:F0} ms {least,6:F2} {middle,6:F2} {ratios[0],5:F2} {ratios[^1],5:F2}");
    }

    private static string Copy(string home, string to)
    {
        Directory.CreateDirectory(to);
        foreach (var file in Directory.EnumerateFiles(home))
        {
            File.Copy(file, Path.Combine(to, Path.GetFileName(file)));
        }

        return to;
    }
}
