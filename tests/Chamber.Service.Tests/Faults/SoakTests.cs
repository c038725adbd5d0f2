using System.Globalization;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Faults;

/// <summary>
/// Weeks of a home with faults drawn by a seed: the broker goes, the disk is full, the clock is set, the process is killed, the log is cut,
/// nobody can be told. What must hold: nothing acknowledged is lost, no danger is left untold, one cause has one alert, what waits is told
/// within the longest wait, nothing is given up early or in silence (<see cref="SoakNotices"/>), the running watch holds no more and more.
/// One seed gives the same weeks again. tests/cases/faults/soak.csv names the seeds; CHAMBER_SEEDS=N takes N more, CHAMBER_WEEKS=N as long.
/// Temperatures and faults are invented.
/// </summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class SoakTests(ITestOutputHelper output)
{
    private static readonly Instant Start = Instant.FromUtc(2026, 3, 2, 0, 0);
    private static readonly Duration Step = Duration.FromMinutes(10);
    private const int StepsOfDay = 144;

    // From one danger to the next, and before the end: what is away comes back within a day.
    private const int CalmDays = 3;
    private const int DangerFrom = 60;

    public static TheoryData<int, int> Cases
    {
        get
        {
            var cases = new TheoryData<int, int>();
            foreach (var line in FaultCases.Of("soak.csv"))
            {
                cases.Add(Number(line[0]), Number(line[1]));
            }

            for (var seed = 1000; seed < 1000 + Number(Environment.GetEnvironmentVariable("CHAMBER_SEEDS") ?? "0"); seed++)
            {
                cases.Add(seed, Number(Environment.GetEnvironmentVariable("CHAMBER_WEEKS") ?? "6"));
            }

            return cases;
        }
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public async Task Weeks_of_faults_lose_nothing_and_leave_no_danger_untold(int seed, int weeks) =>
        output.WriteLine((await Play(seed, weeks * 7)).Summary);

    [Fact]
    public async Task One_seed_gives_the_same_weeks_again_line_by_line()
    {
        var (first, again) = (await Play(7, 8), await Play(7, 8));
        Assert.Equal(first.Trace, again.Trace);
        Assert.Equal(first.Summary, again.Summary);
        Assert.True(first.Trace.Count > 8 * StepsOfDay);
    }

    [Fact]
    public async Task Weeks_without_a_restart_hold_no_more_than_before()
    {
        const int weeks = 3;
        var random = new Random(11);
        using var home = new SoakHome(random, Start);
        var held = new long[2];
        for (var step = 0; step < 2 * weeks * 7 * StepsOfDay; step++)
        {
            await Pass(home, random, IsDanger(step));
            held[step / (weeks * 7 * StepsOfDay)] = (step + 1) % (weeks * 7 * StepsOfDay) == 0 ? home.Held() : 0;
        }

        // What is kept for each reading, and never let go, is as much as the readings between the two; windows differ by less.
        output.WriteLine($"{held[0]} after {weeks} weeks, {held[1]} after {2 * weeks}");
        Assert.InRange(held[1], 1, held[0] + (home.Acknowledged.Count / 2 / 3));
    }

    // They come some days apart, so that each has its own.
    private static int Danger(Instant at) => (int)((at - Start).TotalDays / CalmDays);

    private static bool IsDanger(int step) => step % (CalmDays * StepsOfDay) is >= DangerFrom and < DangerFrom + 6;

    private static string Text(long number) => number.ToString(CultureInfo.InvariantCulture);

    private static int Number(string text) => int.Parse(text, CultureInfo.InvariantCulture);

    private static async Task Pass(SoakHome home, Random random, bool isDanger, Action? faults = null)
    {
        home.Machine.Pass(Step + Duration.FromMilliseconds(random.Next(1_000)));
        faults?.Invoke();
        home.Send((isDanger ? 56 : 22) + random.Next(10) / 10.0);
        await home.Turn();
    }

    private static async Task<(string Summary, IReadOnlyList<string> Trace)> Play(int seed, int days)
    {
        var random = new Random(seed);
        using var home = new SoakHome(random, Start);
        var faults = new SoakFaults(home, random);
        var dangers = new List<int>();
        for (var step = 0; step < days * StepsOfDay; step++)
        {
            var isOver = step / StepsOfDay >= days - 2;
            var isDanger = IsDanger(step) && !isOver;
            if (isDanger && !IsDanger(step - 1))
            {
                dangers.Add(Danger(home.TrueTime));
            }

            await Pass(home, random, isDanger, isOver ? faults.End : faults.Draw);
        }

        Assert.Null(home.Missing(home.Store));
        var alerts = home.Store.Ledger.Alerts.OpenOrClosedSince(Start - Duration.FromDays(400));
        var told = home.Rules.Dangers.ToLookup(told => Danger(told.At), told => told.Notice);
        Assert.Equal(dangers, told.Select(same => same.Key).Order());

        // When the clock is put back, or while it is, a danger may be told twice.
        Assert.All(told.Where(same => same.Count() > 1), same => Assert.Contains(faults.PutBack, back => Danger(back) == same.Key));
        Assert.Empty(home.Rules.Dangers.Select(danger => danger.Notice).Except([.. home.Told, .. home.Rules.GivenUp]));
        Assert.Equal(home.Rules.GivenUp.Count, home.GivenUpInLog);
        Assert.All(alerts.Where(alert => alert.ClosedAt is null).GroupBy(alert => (alert.Kind, alert.Subject)),
            same => Assert.Single(same));
        Assert.Equal(home.Told.Count, home.Told.Distinct().Count());
        return ($"seed {seed}: {days} days, {faults}; {home.Acknowledged.Count} readings acknowledged, {dangers.Count} dangers, "
            + $"{alerts.Count} alerts, {home.Told.Count} notices, {home.Rules.GivenUp.Count} given up, "
            + $"the last {(home.Told is [.., var last] ? last : "none")}",
            [.. home.Trace, .. alerts.Select(alert => alert.ToString())]);
    }
}
