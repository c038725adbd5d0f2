using System.Globalization;
using Chamber.Testing;

namespace Chamber.Service.Tests.Commands;

/// <summary>What was answered at a moment is answered again, whatever is written down, corrected, taken back or received later.</summary>
public sealed class AsOfTests : IDisposable
{
    private static readonly string[] Questions = ["spots", "spots --crop tomato", "probes", "batches", "batches --all", "lots",
        "lot show tom-24", "todo", "place basil:6", "forecast --crop basil --spot shelf --seeds 20", "review T1", "season", "hindsight",
        "replay T1", "learned", "history", "history batch T1", "history probe soil", "alerts --all", "crops",
        "warmth --spot shelf --crop tomato", "plan --plants 6 --lot tom-24", "dates tomato:3 --last-frost 2027-05-10",
        "compare --batches T1 T2"];

    private readonly HomeRig rig = new();

    [Fact]
    public async Task An_answer_as_of_a_moment_is_the_one_given_then()
    {
        await Furnish();
        var then = rig.Clock.GetUtcNow();
        var said = await Answers(string.Empty);
        await Go(1, hours: 30);
        var sown = (await rig.Json("history", "batch", "T1"))[0].GetProperty("number").GetInt64();
        await rig.Do("look T1 9", $"correct {sown} seeds=14", "lot count tom-24 31", "rename spot shelf warm-shelf",
            "rename probe soil soil-2",
            "rename batch T2 M2", "end M2", "spot add mat --kind heat-mat", "sow basil --seeds 8 --spot mat --name B1");
        rig.Write("late.csv", "at,temperature\n2027-03-01T09:10:00Z,31\n2027-03-01T11:10:00Z,33\n");
        await rig.Do($"import {rig.File("late.csv")} --probe soil-2", "set-aside soil-2 --from 2027-02-28 --to 2027-03-01");

        var again = await Answers($" --as-of {then.ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture)}");
        Assert.Equal(said, again);
        Assert.NotEqual(said["batches"], (await rig.Run("batches", "--json")).Out);
    }

    [Fact]
    public async Task Before_anything_was_written_down_there_is_nothing()
    {
        await Furnish();
        Assert.Empty((await rig.Json("batches", "--all", "--as-of", "2027-01-01")).EnumerateArray());
        Assert.Empty((await rig.Json("history", "--as-of", "2027-01-01")).EnumerateArray());
    }

    [Fact]
    public async Task A_time_in_the_future_is_refused_in_one_line()
    {
        Assert.Equal("chamber: --as-of: Tue 2 Mar 12:00 is in the future: name a time that has passed.",
            await rig.Refusal("batches", "--as-of", "2027-03-02"));
        Assert.StartsWith("chamber: --as-of: \"soon\" is not a time", await rig.Refusal("lots", "--as-of", "soon"),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_replay_knows_a_look_from_when_it_was_written_down()
    {
        await Furnish();
        await Go(4, hours: 24);
        await rig.Do("look T1 7 --when 2027-03-14", "end T1");
        var days = (await rig.Json("replay", "T1")).GetProperty("days").EnumerateArray()
            .ToDictionary(day => (int)day.GetProperty("day").GetDouble(), day => day.GetProperty("up").GetInt32());
        Assert.Equal((0, 4, 4, 7), (days[11], days[13], days[15], (await rig.Json("batches", "--all"))[0].GetProperty("up").GetInt32()));
        Assert.True((await rig.Json("history", "batch", "T1"))[3].GetProperty("writtenAt").GetDateTimeOffset()
            > new DateTimeOffset(2027, 3, 16, 0, 0, 0, TimeSpan.Zero));
    }

    public void Dispose() => rig.Dispose();

    private async Task<Dictionary<string, string>> Answers(string asOf)
    {
        var answers = new Dictionary<string, string>();
        foreach (var question in Questions)
        {
            var outcome = await rig.Run($"{question}{asOf} --json".Split(' '));
            Assert.True(outcome.Code == 0, $"{question}{asOf}: {outcome.Error}");
            answers[question] = outcome.Out;
        }

        return answers;
    }

    private async Task Furnish()
    {
        await rig.Do("spot add shelf", "spot add sill --kind sill --light bright", "lot add tom-24 --crop tomato --seeds 60 --year 2024",
            "probe add soil --measures media --spot shelf", "probe add air --spot sill",
            "sow tomato --seeds 12 --spot shelf --lot tom-24 --name T1", "sow tomato --seeds 15 --spot sill --lot tom-24 --name T2");
        await Go(12, hours: 26);

        // The last frost is kept when it is first said; the questions find it said.
        await rig.Do("dates tomato:3 --last-frost 2027-05-10");
        File.WriteAllBytes(rig.File("tray.jpg"), SomePhoto.Jpeg(320, 240, SkiaSharp.SKColors.SaddleBrown));
        await rig.Do($"photo T1 {rig.File("tray.jpg")}", "look T1 4", "look T2 2", "sow basil --seeds 20 --spot shelf --name B9");
    }

    // The probes speak every half hour; what they say reaches the journal at the end.
    private async Task Go(int days, int hours)
    {
        var lines = new List<string> { "at,probe,temperature" };
        var start = rig.Clock.GetUtcNow();
        for (var at = start; at < start.AddDays(days); at = at.AddMinutes(30))
        {
            var warm = 20 + 3 * Math.Sin(at.TimeOfDay.TotalHours / 24 * Math.Tau);
            lines.Add(string.Create(CultureInfo.InvariantCulture, $"{at:yyyy-MM-ddTHH:mm:ssZ},soil,{warm:0.0}"));
            lines.Add(string.Create(CultureInfo.InvariantCulture, $"{at:yyyy-MM-ddTHH:mm:ssZ},air,{warm - 2:0.0}"));
        }

        rig.Clock.Advance(TimeSpan.FromDays(days) + TimeSpan.FromHours(hours - 24));
        await rig.Do($"import {rig.Write("log.csv", string.Join('\n', lines) + "\n")}");
    }
}
