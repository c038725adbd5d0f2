using System.Threading.Channels;
using Chamber.Service.Checks;
using Chamber.Service.Configuration;
using Chamber.Service.Workers;
using Chamber.Storage;
using Chamber.Testing;
using Microsoft.Extensions.Time.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Workers;

[Trait(Tier.Name, Tier.Whole)]
public sealed class BackupWorkerTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly CollectedLog log = new();

    public void Dispose()
    {
        log.Dispose();
        folder.Dispose();
    }

    [Fact]
    public async Task A_backup_due_between_two_looks_at_the_clock_is_waited_for()
    {
        // Half past three in Berlin is due. The worker first looks a minute and a half before, and each look takes a minute.
        var clock = new SlowClock(new(2027, 3, 1, 2, 23, 30, TimeSpan.Zero));
        var data = new DataDirectory(folder.Path);
        var settings = new Settings { Home = new() { Zone = DateTimeZoneProviders.Tzdb["Europe/Berlin"] } };
        using var store = ChamberStore.Open(data.Database);
        using var worker = new BackupWorker(settings, data, store, clock, log.For<BackupWorker>());

        await worker.StartAsync(TestContext.Current.CancellationToken);
        await SetsATimer(worker, clock);
        clock.Advance(TimeSpan.FromMinutes(5));
        await SetsATimer(worker, clock);
        clock.Advance(TimeSpan.FromMinutes(1));
        await SetsATimer(worker, clock);

        Assert.Contains(log.Lines, line => line.Message.Contains("daily-20270301", StringComparison.Ordinal));
        await worker.StopAsync(TestContext.Current.CancellationToken);
    }

    [Fact]
    public async Task A_disk_that_may_not_be_written_is_named_with_the_fix_by_log_and_check()
    {
        log.Expect(nameof(Log.BackupTrouble));
        await using var disk = await SmallDisk.Make(megabytes: 4);
        await disk.MakeReadOnly();
        var data = new DataDirectory(folder.Path);
        var stick = Path.TrimEndingDirectorySeparator(Path.GetFullPath(disk.File(".")));
        await File.WriteAllTextAsync(data.Settings, $$"""{ "backups": { "folder": "{{stick}}" } }""",
            TestContext.Current.CancellationToken);
        var settings = SettingsFile.Load(data, []);
        using var store = ChamberStore.Open(data.Database);
        var clock = new SlowClock(new(2027, 3, 1, 2, 23, 30, TimeSpan.Zero));
        using (var worker = new BackupWorker(settings, data, store, clock, log.For<BackupWorker>()))
        {
            await worker.StartAsync(TestContext.Current.CancellationToken);
            await SetsATimer(worker, clock);
            clock.Advance(TimeSpan.FromMinutes(5));
            await SetsATimer(worker, clock);
            await worker.StopAsync(TestContext.Current.CancellationToken);
        }

        var fix = $"systemctl edit chamber, and there [Service] and ReadWritePaths={stick}";
        Assert.Contains(log.Lines, line => line.Message.Contains(fix, StringComparison.Ordinal));
        var findings = await new HomeCheck(data, [], clock) { Quick = true }.Look(TestContext.Current.CancellationToken);
        var found = Assert.Single(findings, finding => finding.What == "backups");
        Assert.Equal((false, true), (found.Good, found.Says.Contains(fix, StringComparison.Ordinal)));

        // By hand the message names the copy, and not the data file, which has nothing.
        var byHand = Assert.Throws<StoreException>(() => store.BackUp(Path.Combine(stick, "copy.db")));
        Assert.StartsWith($"{Path.Combine(stick, "copy.db")}: the file could not be written (", byHand.Message, StringComparison.Ordinal);
        Assert.Contains("Read-only file system", byHand.Message, StringComparison.Ordinal);
    }

    private static async Task SetsATimer(BackupWorker worker, SlowClock clock)
    {
        await await Wait.For("the worker to wait", Task.WhenAny(clock.TimerSet(), worker.ExecuteTask!));
        Assert.False(worker.ExecuteTask!.IsCompleted);
    }

    private sealed class SlowClock : FakeTimeProvider
    {
        private readonly Channel<DateTimeOffset> timers = Channel.CreateUnbounded<DateTimeOffset>();

        public SlowClock(DateTimeOffset start)
            : base(start) => AutoAdvanceAmount = TimeSpan.FromMinutes(1);

        public Task<DateTimeOffset> TimerSet() => timers.Reader.ReadAsync().AsTask();

        public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
        {
            var timer = base.CreateTimer(callback, state, dueTime, period);
            timers.Writer.TryWrite(Start);
            return timer;
        }
    }
}
