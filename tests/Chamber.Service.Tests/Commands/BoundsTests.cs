using Chamber.Core.Climate;
using Chamber.Core.Statistics;
using NodaTime;

namespace Chamber.Service.Tests.Commands;

/// <summary>Every number that a command line takes has a bound, and what lies beyond it is refused in one line with the fix. Bounds are
/// the program's own, kept to notice change.</summary>
public sealed class BoundsTests : IDisposable
{
    private static readonly HashSet<Type> Numbers = [typeof(int), typeof(long), typeof(double), typeof(decimal), typeof(Duration),
        typeof(Temperature), typeof(LocalDate), typeof(SeedCount)];

    /// <summary>What a number of a verb is called, and a line in which it lies beyond its bound.</summary>
    private static readonly Dictionary<string, string> Beyond = new()
    {
        ["alerts mute for"] = "alerts mute 1 5000d",
        ["calibrate dry --raw"] = "calibrate dry soil --raw 1e12",
        ["calibrate saturated --raw"] = "calibrate saturated soil --raw 1e12",
        ["dates --last-frost"] = "dates tomato:3 --last-frost 9999-05-10",
        ["dates --frost-chance"] = "dates tomato:3 --last-frost 2027-05-10 --frost-chance 7",
        ["dates --light-room"] = "dates tomato:3 --last-frost 2027-05-10 --light-room 100000000",
        ["dates crop"] = "dates tomato:100000000 --last-frost 2027-05-10",
        ["demo --speed"] = "demo --speed 100000",
        ["demo --page-port"] = "demo --page-port 100000",
        ["demo --broker-port"] = "demo --broker-port 100000",
        ["forecast --at"] = "forecast --crop tomato --at 5000C",
        ["forecast --depth"] = "forecast --crop tomato --at 20C --depth 5000",
        ["forecast --seeds"] = "forecast --crop tomato --at 20C --seeds 100000000",
        ["history --last"] = "history --last 2000000000",
        ["import --skip"] = "import FILE --probe p --skip 2000000000",
        ["listen --for"] = "listen --for 5000d",
        ["look up"] = "look T1 100000000",
        ["loss plants"] = "loss T1 100000000",
        ["lot add --price"] = "lot add b --crop tomato --seeds 5 --price 99999999999999999999",
        ["lot add --seeds"] = "lot add b --crop tomato --seeds 100000000",
        ["lot add --stated"] = "lot add b --crop tomato --seeds 5 --stated 700%",
        ["lot add --year"] = "lot add b --crop tomato --seeds 5 --year 20270",
        ["lot count seeds"] = "lot count a 100000000",
        ["maintenance for"] = "maintenance shelf 8d",
        ["place crop"] = "place tomato:100000000",
        ["plan --assurance"] = "plan --plants 3 --germination 0.8 --assurance 1",
        ["plan --bought-price"] = "plan --plants 3 --germination 0.8 --bought-price 99999999999999999999",
        ["plan --germination"] = "plan --plants 3 --germination 7",
        ["plan --harvest"] = "plan --harvest 100000000 --yield 1 --germination 0.8",
        ["plan --heat-hours"] = "plan --plants 3 --germination 0.8 --heat-hours 100000000",
        ["plan --kwh-price"] = "plan --plants 3 --germination 0.8 --kwh-price 99999999999999999999",
        ["plan --mix-litres"] = "plan --plants 3 --germination 0.8 --mix-litres 100000000",
        ["plan --mix-price"] = "plan --plants 3 --germination 0.8 --mix-price 99999999999999999999",
        ["plan --per-cell"] = "plan --plants 3 --germination 0.8 --per-cell 100000000",
        ["plan --plants"] = "plan --plants 100000000 --germination 0.8",
        ["plan --pots-price"] = "plan --plants 3 --germination 0.8 --pots-price 99999999999999999999",
        ["plan --seed-price"] = "plan --plants 3 --germination 0.8 --seed-price 99999999999999999999",
        ["plan --seeds"] = "plan --seeds 100000000 --germination 0.8",
        ["plan --survival"] = "plan --plants 3 --germination 0.8 --survival 7",
        ["plan --watts"] = "plan --plants 3 --germination 0.8 --watts 100000000",
        ["plan --yield"] = "plan --harvest 1 --yield 0.0000001 --germination 0.8",
        ["plant-out day"] = "plant-out T1 9999-05-10",
        ["probe add --max-gap"] = "probe add p --max-gap 5000d",
        ["read --humidity"] = "read shelf 20C --humidity 700",
        ["read temperature"] = "read shelf 5000C",
        ["refusals --last"] = "refusals --last 100000000",
        ["season --bought-price"] = "season --bought-price 99999999999999999999",
        ["season --other-costs"] = "season --other-costs 99999999999999999999",
        ["season --year"] = "season --year 20270",
        ["sow --depth"] = "sow tomato --seeds 5 --spot shelf --depth 5000",
        ["sow --seeds"] = "sow melon --seeds 100000000 --spot shelf",
        ["sow --when"] = "sow melon --seeds 3 --spot shelf --when 1871-01-01",
        ["spot add --room"] = "spot add sill --room 100000000",
        ["stage --plants"] = "stage T1 pricked-out --plants 100000000",
        ["test call --good"] = "test call T1 --good 100000000",
        ["test record count"] = "test record a 100000000/100000000",
        ["test start --seeds"] = "test start a --spot shelf --seeds 100000000",
        ["todo --days"] = "todo --days 2000000000",
        ["warmth --max-gap"] = "warmth --trace FILE --crop tomato --max-gap 5000d",
        ["compare --counts"] = "compare --counts 100000000/100000000 1/2",
    };

    /// <summary>Numbers that name something, or of which each is as good as the next.</summary>
    private static readonly string[] Unbounded = ["alerts mute number", "alerts seen number", "correct number", "demo --seed",
        "demo record --seed"];

    private readonly HomeRig rig = new();

    public void Dispose() => rig.Dispose();

    public static TheoryData<string> Lines => new(Beyond.Keys);

    [Fact]
    public void Every_number_of_the_command_line_is_tried_here()
    {
        var taken = CommandReference.Every().SelectMany(verb => verb.Options.Select(option => (option.Name, option.ValueType))
            .Concat(verb.Arguments.Select(argument => (argument.Name, argument.ValueType)))
            .Where(part => Numbers.Contains(Nullable.GetUnderlyingType(part.ValueType) ?? part.ValueType))
            .Select(part => $"{CommandReference.Path(verb)} {part.Name}")).ToList();
        Assert.True(taken.Count > 40, $"{taken.Count} numbers found");
        Assert.Empty(taken.Except(Beyond.Keys).Except(Unbounded));
    }

    [Theory]
    [MemberData(nameof(Lines))]
    public async Task A_number_beyond_its_bound_is_refused_in_one_line(string number)
    {
        await rig.Do("spot add shelf", "lot add a --crop tomato --seeds 40", "sow tomato --seeds 12 --spot shelf --name T1",
            "probe add soil");
        var refusal =
            await rig.Refusal(
            [.. Beyond[number].Replace("FILE", rig.Write("log.csv", "at,temperature\n2027-02-01T00:00:00Z,20\n"), StringComparison.Ordinal)
            .Split(' ')]);
        Assert.StartsWith("chamber: ", refusal, StringComparison.Ordinal);
        Assert.True(refusal.Length < 400, refusal);
        Assert.DoesNotContain((await rig.Json("batches")).EnumerateArray(), batch => batch.GetProperty("crop").GetString() == "melon");
    }

    [Theory]
    [InlineData("100,000,000 is outside 1 to 10,000 for the seeds of a batch: a home sows no more at once; write a larger sowing down as "
        + "several batches.", "sow", "melon", "--seeds", "100000000", "--spot", "shelf")]
    [InlineData("--max-gap 5000 days is outside 1 s to 30 days for the longest silence that is no gap: name it so that a probe that fell "
        + "silent is noticed, such as 2h.", "warmth", "--crop", "tomato", "--trace", "x", "--max-gap", "5000d")]
    public async Task The_refusal_names_the_bound_and_the_fix(string sentence, params string[] line)
    {
        await rig.Do("spot add shelf");
        Assert.Equal($"chamber: {sentence}", await rig.Refusal(line));
    }

    [Theory]
    [InlineData("look", "T1", "1", "--note")]
    [InlineData("lot", "add", "b", "--crop", "tomato", "--seeds", "5", "--note")]
    [InlineData("lot", "add", "b", "--crop", "tomato", "--seeds", "5", "--variety")]
    [InlineData("stage", "T1", "uncovered", "--note")]
    [InlineData("loss", "T1", "1", "--note")]
    [InlineData("alerts", "seen", "1", "--by")]
    [InlineData("tokens", "add")]
    [InlineData("sow", "tomato", "--seeds", "3", "--spot", "shelf", "--name")]
    [InlineData("spot", "add")]
    public async Task A_text_of_a_megabyte_is_refused(params string[] line)
    {
        await rig.Do("spot add shelf", "sow tomato --seeds 12 --spot shelf --name T1 --when 06:00", "look T1 3 --when 07:00");
        var refusal = await rig.Refusal([.. line, new string('x', 1_000_000)]);
        Assert.True(refusal.Length < 400, refusal[..Math.Min(400, refusal.Length)]);
    }
}
