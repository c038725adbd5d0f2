using Chamber.Service.Tests.Storage;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Faults;

/// <summary>
/// A data file and its log, as a killed process leaves them, damaged at random places and by a seed each: what is then read is right, or
/// told to be damaged. With CHAMBER_SEEDS another number of seeds than the usual thousand. Readings are invented.
/// </summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class DamageTests : IDisposable
{
    private const int PageSize = 4096;
    private const int LogHeader = 32;
    private const int Kinds = 6;

    private static readonly Interval Always = new(null, null);
    private static readonly StoreOptions Quick = new() { Readings = Durability.ProcessEnd };
    private static readonly int Seeds =
        int.TryParse(Environment.GetEnvironmentVariable("CHAMBER_SEEDS"), out var seeds) ? seeds : 1_000;

    private readonly TempFolder folder = new();
    private readonly Dictionary<string, byte[]> image = [];
    private readonly string whole;

    public DamageTests()
    {
        using var file = new DataFile();
        using (var before = file.Open(Quick))
        {
            before.Journal.Append(DataFile.Minutes(0, 400), []);
            before.Journal.Append(DataFile.Minutes(0, 400, "sill"), []);
            before.Ledger.Settings.Set("name", new string('n', 6_000));
        }

        using var store = file.Open(Quick);
        for (var i = 0; i < 20; i++)
        {
            store.Journal.Append(DataFile.Minutes(400 + i, 1), []);
        }

        store.Ledger.Settings.Set("other", "value");
        foreach (var suffix in (string[])["", "-wal", "-mark"])
        {
            image[suffix] = File.ReadAllBytes(file.Path + suffix);
        }

        whole = Everything(store);
    }

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("flipped log")]
    [InlineData("cut log")]
    [InlineData("zeroed log")]
    [InlineData("flipped file")]
    [InlineData("cut file")]
    [InlineData("zeroed page")]
    public void What_is_read_after_damage_is_right_or_told(string kind)
    {
        var (right, told) = (0, 0);
        for (var seed = 0; seed < Seeds / Kinds; seed++)
        {
            Lay(kind, new Random(seed));
            var (outcome, read) = Outcome();
            switch (outcome)
            {
                case "right":
                    right++;
                    break;
                case "told":
                    told++;
                    break;
                default:
                    Assert.Fail($"{kind} by seed {seed}: something else is read, and nothing is said. {FirstOther(read)}");
                    break;
            }
        }

        Assert.True(told > 0, $"{kind}: {right} right and none told.");
    }

    private void Lay(string kind, Random random)
    {
        foreach (var old in Directory.GetFiles(folder.Path))
        {
            File.Delete(old);
        }

        foreach (var (suffix, bytes) in image)
        {
            var damaged = (suffix, kind.Split(' ')) switch
            {
                ("-wal", [var how, "log"]) => Damaged(how, bytes, LogHeader, random),
                ("", [var how, "file" or "page"]) => Damaged(how, bytes, 0, random),
                _ => bytes,
            };
            File.WriteAllBytes(folder.File("chamber.db" + suffix), damaged);
        }
    }

    private static byte[] Damaged(string how, byte[] bytes, int from, Random random)
    {
        byte[] copy = [.. bytes];
        switch (how)
        {
            case "flipped":
                copy[random.Next(copy.Length)] ^= (byte)(1 << random.Next(8));
                return copy;
            case "cut":
                return copy[..random.Next(copy.Length)];
            default:
                Array.Clear(copy, from + (random.Next((copy.Length - from) / PageSize) * PageSize), PageSize);
                return copy;
        }
    }

    private (string Outcome, string Read) Outcome()
    {
        try
        {
            using var store = ChamberStore.Open(folder.File("chamber.db"), Quick);
            var read = Everything(store);
            return (read == whole ? "right" : store.Damage is null ? "silent" : "told", read);
        }
        catch (StoreException problem)
        {
            return ("told", problem.Message);
        }
    }

    private string FirstOther(string read)
    {
        var (lines, good) = (read.Split('\n'), whole.Split('\n'));
        var at = Enumerable.Range(0, Math.Min(lines.Length, good.Length)).FirstOrDefault(i => lines[i] != good[i], -1);
        return at < 0 ? $"{lines.Length} lines in place of {good.Length}."
            : $"Line {at} of {lines.Length}: {Start(lines[at])} for {Start(good[at])}";
    }

    private static string Start(string line) => line.Length > 120 ? line[..120] : line;

    private static string Everything(ChamberStore store) => string.Join('\n',
        store.Journal.Probes().SelectMany(probe => store.Journal.Read(probe, Always)).Select(reading => reading.ToString())
            .Concat(store.Facts.Since(0).Select(entry => entry.ToString()))
            .Append(store.Ledger.Settings.Get("name")).Append(store.Ledger.Settings.Get("other")));
}
