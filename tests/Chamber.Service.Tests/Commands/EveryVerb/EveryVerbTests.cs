using System.Text.RegularExpressions;
using Chamber.Service.Commands;
using Chamber.Testing;

namespace Chamber.Service.Tests.Commands.EveryVerb;

/// <summary>Every verb on four homes: what it says is English as it is spoken, no part of the program shows, and 80 columns hold
/// it.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed partial class EveryVerbTests(FourHomes homes) : IClassFixture<FourHomes>
{
    // What a grower asks, then what they write down, in an order in which it can be done; some of it is wrong in some homes.
    private static readonly string[] Lines =
    [
        "help", "about", "spots", "spots --crop basil", "spots --crop carrot", "spots --spot SPOT", "spots --spot SPOT --all",
        "probes", "place tomato:2 basil", "place", "warmth --crop tomato --spot SPOT", "forecast --crop tomato --spot SPOT",
        "forecast --lot LOT --spot SPOT", "forecast basil", "forecast LOT", "refusals", "week", "week --last-frost 2027-05-10", "lots",
        "lot show LOT",
        "test plan LOT", "crops", "crops tomato", "crops tomato --sources", "fit --trials FOLDER/trial.csv",
        "plan --plants 1 --germination 0.99", "plan --plants 12 --lot LOT", "plan --seeds 1 --lot LOT",
        "plan --seeds 46 --lot LOT", "plan --watts 20", "plan --plants 3 --germination 0.8 --watts 20",
        "plan --plants 3 --germination 0.8 --seed-price 0.1", "dates tomato:1 carrot:20 basil:6 --last-frost 2027-05-10",
        "dates tomato:12 --last-frost 2027-03-20 --spot SPOT --light-room 2", "batches", "batches --all", "batches BATCH",
        "batches basil SPOT", "todo",
        "todo --days 60", "labels BATCH --out FOLDER/labels-HOME.pdf", "alerts", "alerts --all", "cautions", "cautions mould", "notices",
        "history",
        "history batch BATCH", "history spot SPOT", "review BATCH", "compare --counts 1/2 2/2", "compare --counts 11/14 7/15",
        "compare --batches T1 BATCH", "season", "learned", "experience", "hindsight", "replay BATCH", "check", "config show",
        "completion bash",
        "calendar --out FOLDER/out-HOME.ics", "export --out FOLDER/out-HOME", "boards FOLDER/boards-HOME", "mirror", "club", "tokens",
        "broker-user list", "watch-test FOLDER/empty.watch", "notify-test", "limits", "limits SPOT --too-hot 30C", "limits",
        "read SPOT 21.5C", "calibrate list", "import FOLDER/log.csv --probe PROBE --dry-run",
        "import FOLDER/log.csv --probe PROBE --unit temperature=C --dry-run",
        "import FOLDER/log.csv --probe PROBE --unit temperature=C", "import-notebook FOLDER/book.csv --dry-run",
        "import-notebook FOLDER/book.csv",
        "spot add new-spot", "probe add new-probe --spot SPOT", "probe move new-probe SPOT",
        "lot add new-lot --crop basil --seeds 1", "lot count new-lot 3", "sow basil --seeds 1 --spot SPOT --name N1",
        "sow carrot --seeds 2 --spot SPOT --name N2 --lot LOT", "look N1 0", "water N1", "water SPOT", "note N1 \"turned round\"",
        "look N1 1 --when 12:31", "stage N1 uncovered", "loss N1 1 --to cold", "plant-out N2 2027-05-17", "move N2 SPOT",
        "test start LOT --spot SPOT", "test record LOT 1/1", "maintenance SPOT 3h", "end N1", "todo", "batches",
        "correct 1 room=1", "rename batch N2 N3", "set-aside PROBE --from 07:00 --to 08:00", "undo",
        "backup FOLDER/copy-HOME.db", "remove 1", "photo N3 FOLDER/none.jpg",
    ];

    // Words of a line that wrap in one width and not in another are the same; times and days differ in no way here.
    public static TheoryData<string> Homes => [.. FourHomes.Names.Select(one => one.Home)];

    [Theory]
    [MemberData(nameof(Homes))]
    public async Task What_every_verb_says_is_english_as_it_is_spoken(string home)
    {
        WriteFiles();
        var (said, slips) = (new List<string>(), new List<string>());
        foreach (var line in Lines.Select(line => line.Replace("HOME", home, StringComparison.Ordinal)))
        {
            var outcome = await homes.Run(home, line);
            said.Add($"$ chamber {line}\n{outcome.Out}{outcome.Error}[{outcome.Code}]");
            slips.AddRange(Slips(outcome.Out + outcome.Error).Select(slip => $"{line}: {slip}"));
            if (outcome.Error.Split('\n', StringSplitOptions.RemoveEmptyEntries).Count(told => told.StartsWith("chamber: ",
                StringComparison.Ordinal)) > 1)
            {
                slips.Add($"{line}: more than one line: {outcome.Error}");
            }
        }

        Keep($"said-{home}.txt", string.Join("\n\n", said));
        Assert.True(slips.Count == 0, string.Join('\n', slips));
    }

    [Fact]
    public async Task Eighty_columns_hold_thirty_spots_and_break_no_word()
    {
        WriteFiles();
        var faults = new List<string>();
        foreach (var line in Lines.TakeWhile(line => line != "limits SPOT --too-hot 30C"))
        {
            var (narrow, wide) = (await homes.Run("thirty", line, 80), await homes.Run("thirty", line, 400));
            var text = narrow.Out;
            faults.AddRange(text.Split('\n')
                .Where(shown => shown.TrimEnd().Length > 80 && shown.Trim().Contains(' ', StringComparison.Ordinal)
                    && !IsAsItIs(line)).Select(shown => $"{line}: {shown}"));
            var words = Words(wide.Out).ToHashSet(StringComparer.Ordinal);
            faults.AddRange(Words(text).Where(word => !words.Contains(word) && word != "·").Take(3)
                .Select(word => $"{line}: broken: {word}"));
        }

        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }

    [Fact]
    public void Every_verb_is_asked() => Assert.Empty(Verbs.Names
        .Except(Lines.Select(line => line.Split(' ')[0]))
        .Except(["run", "demo", "listen", "restore", "import-home", "help"]));

    private static bool IsAsItIs(string line) => line.Split(' ')[0] is "config" or "completion";

    // A heading has a colon where its table became lines.
    private static string[] Words(string text) =>
        [.. text.Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries).Select(word => word.TrimEnd(':'))];

    // For reading all of it by eye: what a test cannot know is whether somebody would say it so.
    private static void Keep(string name, string text)
    {
        if (Environment.GetEnvironmentVariable("CHAMBER_SAID") is { Length: > 0 } folder)
        {
            File.WriteAllText(Path.Combine(folder, name), text);
        }
    }

    private void WriteFiles()
    {
        homes.Write("trial.csv", "temperature,from,to,count\n20,5,8,20\n20,8,12,25\n20,12,,5\n25,3,4,5\n25,4,6,35\n25,6,9,8\n25,9,,2\n"
            + "15,10,16,30\n15,16,24,14\n15,24,,6\n");
        homes.Write("log.csv", "time,temp\n2027-03-01 07:00,21.5\n");
        homes.Write("book.csv", "batch,sown,crop,seeds,counted,up\nX1,2027-01-03,basil,1,2027-01-12,1\n");
        homes.Write("empty.watch", "# nothing yet\n");
    }

    private static IEnumerable<string> Slips(string text) => Slip().Matches(text).Select(match => text[
        Math.Max(0, match.Index - 30)..Math.Min(text.Length, match.Index + match.Length + 30)].Replace('\n', ' '));

    [GeneratedRegex("""
        (?<![\d.,:/-])(?<!\ to\ )(?<!/)\b1\ (days|hours|batches|seeds|plants|pots|weeks|lots|tests|looks|counts|readings|topics|messages
            |probes|spots|crops|lines|cells|alerts|notices|entries|minutes|times|files|degrees|were|are|have|come|need|boxes|containers
            |litres|points|people)\b
        |(?<![\d.,:-])(?<!\bof\ )\b(0|[2-9]|[1-9]\d+)\ (day|batch|week|hour|plant|pot|probe|message|reading|topic|minute|alert
            |is|was|has|comes|needs)\b(?!-)
        |\b(\d[\d.,]*)\ to\ \3(?![\d.,:])
        |\b0\ (were|are|was|is)\b
        |\b[Aa]\ (?!one|uni|use|usual|eu|u[ks]e)[aeiou][a-z]+\b
        |\b[Aa]n\ (?!hour|honest|heir)[bcdfghjklmnpqrstvwxyz][a-z]+\b
        |\b(?!that\b|had\b|mm\b|h\b)([a-z]{2,})\ \4\b
        |\(s\)|\b[a-z]+\ ,|[a-z]\ \.(?=\s)|(?<!\.)\.\.(?!\.|/)|,,|;;|\?\?
        |In\ \d+\ \w+\ from|not\ checked|does\ \d+\ times\ in\ 100|this\ lot\ does
        |System\.|Nullable|Int32|Exception|NodaTime|\bNaN\b|Infinity|Object\ reference|`\d|Chamber\.(Core|Service|Storage|Mqtt)
        """, RegexOptions.IgnorePatternWhitespace)]
    private static partial Regex Slip();
}
