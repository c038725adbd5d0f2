using System.Globalization;
using Chamber.Core.Alerts;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Faults;

/// <summary>
/// Weeks of a home with faults drawn by a seed: the broker goes, the disk is full, the clock is set, the process is killed, the log is cut,
/// nobody can be told. What must hold: nothing acknowledged is lost, no danger is left untold, one cause has one alert, memory stays flat.
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

    // They come some days apart, so that each has its own.
    private static int Danger(Instant at) => (int)((at - Start).TotalDays / CalmDays);

    private static string Text(long number) => number.ToString(CultureInfo.InvariantCulture);

    private static int Number(string text) => int.Parse(text, CultureInfo.InvariantCulture);

    private static async Task<(string Summary, IReadOnlyList<string> Trace)> Play(int seed, int days)
    {
        var random = new Random(seed);
        using var home = new SoakHome(random, Start);
        var faults = new SoakFaults(home, random);
        var (dangers, memory) = (0, 0L);
        for (var step = 0; step < days * StepsOfDay; step++)
        {
            home.Machine.Pass(Step + Duration.FromMilliseconds(random.Next(1_000)));
            var hour = step % (CalmDays * StepsOfDay);
            var isDanger = hour is >= 60 and < 66 && step / StepsOfDay < days - 2;
            dangers += isDanger && hour == 60 ? 1 : 0;
            if (step / StepsOfDay < days - 2)
            {
                faults.Draw();
            }
            else
            {
                faults.End();
            }

            home.Send(isDanger ? 56 + random.Next(10) / 10.0 : 22 + random.Next(10) / 10.0);
            await home.Turn();
            if (step == days * StepsOfDay / 2)
            {
                memory = GC.GetTotalMemory(forceFullCollection: true);
            }
        }

        var grown = GC.GetTotalMemory(forceFullCollection: true) - memory;
        Assert.Null(home.Missing(home.Store));
        var alerts = home.Store.Ledger.Alerts.OpenOrClosedSince(Start - Duration.FromDays(400));
        var hazards = alerts.Where(alert => alert.Kind == AlertKind.Hazard && alert.CloseReason != CloseReason.Withdrawn).ToList();
        Assert.Equal(dangers, hazards.Select(hazard => Danger(hazard.OpenedAt)).Distinct().Count());

        // Around the moment in which the clock is put back a danger may be told twice.
        Assert.All(hazards.GroupBy(hazard => Danger(hazard.OpenedAt)).Where(same => same.Count() > 1),
            same => Assert.Contains(faults.PutBack, back => Danger(back) == same.Key));
        Assert.All(hazards, hazard => Assert.Contains(home.Told,
            told => told.StartsWith($"Hazard alert-{Text(hazard.Number)}-", StringComparison.Ordinal)));
        Assert.All(alerts.Where(alert => alert.ClosedAt is null).GroupBy(alert => (alert.Kind, alert.Subject)),
            same => Assert.Single(same));
        Assert.Equal(home.Told.Count, home.Told.Distinct().Count());
        Assert.InRange(grown, long.MinValue, 24 * 1024 * 1024);
        return ($"seed {seed}: {days} days, {faults}; {home.Acknowledged.Count} readings acknowledged, {dangers} dangers, "
            + $"{alerts.Count} alerts, {home.Told.Count} notices, the last {(home.Told is [.., var last] ? last : "none")}",
            [.. home.Trace, .. alerts.Select(alert => alert.ToString())]);
    }
}
