using System.Globalization;
using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Forecasts;
using Chamber.Service.Home;
using Chamber.Service.Home.Watching;
using Chamber.Service.Tests.Commands;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Tests.Home.Watching;

/// <summary>
/// Reminders to look and to stop waiting, as the service raises them: the real watch, a real data file, a clock that the test moves. When
/// somebody is called to look or to stop: the program's own rules, no source, on an invented home.
/// </summary>
public sealed class ForecastMarksTests : IDisposable
{
    private readonly HomeRig rig = new();

    public void Dispose() => rig.Dispose();

    private Instant Now => Instant.FromDateTimeOffset(rig.Clock.GetUtcNow());

    [Fact]
    public async Task Nobody_is_asked_to_look_at_night_or_more_than_twice_a_day()
    {
        await Measured(24, 20);
        await rig.Do("sow radish --seeds 15 --spot shelf --name R1");

        // Somebody who looks an hour after each reminder and never sees anything.
        var asked = new List<ZonedDateTime>();
        using var home = new Watched(rig);
        for (var hour = 0; hour < 7 * 24; hour++)
        {
            rig.Clock.Advance(TimeSpan.FromHours(1));
            foreach (var alert in home.Step(Now).Where(alert => alert.Kind == AlertKind.LookNow))
            {
                asked.Add(alert.OpenedAt.InUtc());
                rig.Clock.Advance(TimeSpan.FromMinutes(20));
                await rig.Do("look R1 0");
                rig.Clock.Advance(TimeSpan.FromMinutes(-20 + 60));
                hour++;
            }
        }

        Assert.NotEmpty(asked);
        Assert.All(asked, at => Assert.InRange(at.Hour, 7, 21));
        Assert.All(asked.GroupBy(at => at.Date), day => Assert.InRange(day.Count(), 1, 2));
        Assert.Contains(asked.GroupBy(at => at.Date), day => day.Count() == 2);

        // By the 1954 table radish is up in four days at 25 °C; nobody is sent on the first.
        Assert.True(asked[0].ToInstant() - Now > Duration.FromDays(-6.5));
    }

    [Fact]
    public async Task A_hopeless_batch_is_told_once_and_taken_back_when_a_seedling_comes()
    {
        await Measured(20, 60);
        await rig.Do($"sow tomato --seeds 12 --spot shelf --name T1 --when {Text(Now - Duration.FromDays(50))}",
            $"look T1 0 --when {Text(Now - Duration.FromHours(2))}");
        using var home = new Watched(rig);

        var told = Assert.Single(home.Step(Now), alert => alert.Kind == AlertKind.StopWaiting && alert.Subject.Name == "T1");
        Assert.Equal(CauseKind.Late, told.Evidence.Why);
        rig.Clock.Advance(TimeSpan.FromHours(3));
        Assert.DoesNotContain(home.Step(Now), alert => alert.Kind == AlertKind.StopWaiting);
        Assert.Equal(CauseKind.Late, home.Facts.Batches[0].StopWaitingFrom?.Why);

        await rig.Do("look T1 1");
        home.Step(Now);
        Assert.DoesNotContain(home.Open, alert => alert.Kind == AlertKind.StopWaiting);
    }

    [Fact]
    public async Task An_alert_gives_the_reason_that_the_review_gives_also_later()
    {
        await Measured(20, 60);
        await rig.Do($"sow tomato --seeds 12 --spot shelf --name T1 --when {Text(Now - Duration.FromDays(50))}",
            $"look T1 0 --when {Text(Now - Duration.FromHours(2))}");
        using var home = new Watched(rig);
        home.Step(Now);
        rig.Clock.Advance(TimeSpan.FromHours(3));
        await rig.Do("look T1 0 --note mouldy");
        var opened = home.Step(Now);

        Assert.Equal(CauseKind.Mould, Assert.Single(home.Open, alert => alert.Kind == AlertKind.StopWaiting).Evidence.Why);
        Assert.Equal("mould", (await rig.Json("review", "T1")).GetProperty("cause").GetString());
        Assert.DoesNotContain(opened, alert => alert.Kind == AlertKind.StopWaiting);
    }

    [Theory]
    [InlineData("tomato", 12, 34.5, "above")]
    [InlineData("lettuce", 16, 31, "above")]
    public async Task An_alert_gives_the_number_that_the_review_gives(string crop, int seeds, double celsius, string word)
    {
        await Measured(celsius, 60);
        await rig.Do($"sow {crop} --seeds {seeds} --spot shelf --name T1 --when {Text(Now - Duration.FromDays(50))}",
            $"look T1 0 --when {Text(Now - Duration.FromHours(2))}");
        using var home = new Watched(rig);
        home.Step(Now);
        var sentence = (await rig.Json("review", "T1")).GetProperty("verdict").GetString()!;
        Assert.Matches($@"\d+ h.* {word} ", sentence);

        var alert = Assert.Single((await rig.Json("alerts")).EnumerateArray(),
            one => one.GetProperty("condition").GetString() == "stop-waiting");
        Assert.Equal(sentence, alert.GetProperty("harm").GetString());
        var forecast = (await rig.Json("batches")).EnumerateArray().Single();
        Assert.Equal(sentence, forecast.GetProperty("diagnosis").GetProperty("sentence").GetString());
    }

    [Fact]
    public async Task Between_hours_the_marks_stand_still_until_somebody_looks()
    {
        await Measured(24, 20);
        await rig.Do($"sow radish --seeds 15 --spot shelf --name R1 --when {Text(Now - Duration.FromDays(5))}");
        using var home = new Watched(rig);
        home.Step(Now);
        var first = home.Facts.Batches[0].LookFrom;
        Assert.NotNull(first);

        rig.Clock.Advance(TimeSpan.FromMinutes(10));
        home.Step(Now);
        Assert.Equal(first, home.Facts.Batches[0].LookFrom);
    }

    private async Task Measured(double celsius, int days)
    {
        var start = Now;
        var rows = Enumerable.Range(0, days * 24)
            .Select(hour => string.Create(CultureInfo.InvariantCulture,
            $"{Text(start + Duration.FromHours(hour))},{celsius + Math.Sin(hour / 24.0 * Math.Tau):0.00}"));
        await File.WriteAllLinesAsync(rig.File("shelf.csv"), ["at,temperature", .. rows], TestContext.Current.CancellationToken);
        rig.Clock.Advance(TimeSpan.FromDays(days));
        await rig.Do("spot add shelf --kind shelf --light dim --room 9", "probe add p1 --measures media",
            $"probe move p1 shelf --when {Text(start)}", $"import {rig.File("shelf.csv")} --probe p1");
    }

    private static string Text(Instant at) => NodaTime.Text.InstantPattern.General.Format(at);

    /// <summary>What the service's worker does with the marks, without its threads.</summary>
    private sealed class Watched : IDisposable
    {
        private readonly ChamberStore store;
        private readonly ForecastMarks marks = new(() => QuietHours.Usual);
        private HomeWatch? watch;

        public Watched(HomeRig rig) => store = ChamberStore.Open(rig.File("chamber.db"));

        public HomeFacts Facts { get; private set; } = new();

        public IReadOnlyList<Alert> Open => watch!.Open();

        /// <summary>Alerts that opened, recorded as the service does.</summary>
        public List<Alert> Step(Instant now)
        {
            var home = new HomeReader(store.Home, store.Records, CropCatalog.Shipped, DateTimeZone.Utc);
            Facts = marks.Put(home.Facts(), home, now);
            watch ??= new(Facts);
            var events = watch.Step(Facts, now).Concat(watch.Step(now)).ToList();
            events.AddRange(events.OfType<RefoldNeeded>().ToList().SelectMany(late => watch.Refold(late,
                (probe, from) => store.Journal.Read(probe, new(from ?? Instant.MinValue, now)), now)));
            foreach (var happened in events)
            {
                Write(happened switch
                {
                    AlertOpened { Alert: var opened } => opened,
                    AlertWorsened { Alert: var worse } => worse,
                    AlertAmended { Alert: var amended } => amended,
                    AlertClosed { Alert: var closed } => closed,
                    _ => null,
                });
            }

            return [.. events.OfType<AlertOpened>().Select(opened => opened.Alert)];
        }

        public void Dispose() => store.Dispose();

        private void Write(Alert? alert)
        {
            if (alert is null)
            {
                return;
            }

            var open = store.Ledger.Alerts.Open()
                .FirstOrDefault(entry => entry.Kind == alert.Kind && entry.Subject == alert.Subject);
            store.Ledger.Alerts.Save(AlertRecords.ToEntry(alert, open?.Number ?? 0));
        }
    }
}
