using System.Globalization;
using System.Text;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using Chamber.Mqtt.Decoding;
using Chamber.Service.Configuration;
using Chamber.Service.Health;
using Chamber.Service.Home;
using Chamber.Service.Home.Watching;
using Chamber.Service.Notify;
using Chamber.Service.Tests.Rig;
using Chamber.Service.Workers;
using Chamber.Storage;
using Chamber.Testing;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;

namespace Chamber.Service.Tests.Faults;

/// <summary>
/// A home on a real data file whose service is turned by hand: three probes send, a watch is rebuilt after each kill, and one channel
/// tells people. Everything that can fail is switched from outside.
/// </summary>
internal sealed class SoakHome : INoticeChannel, IDisposable
{
    private static readonly SpotId Mat = new("mat");
    private static readonly string[] Probes = ["mat-probe", "shelf-probe", "sill-probe"];

    private readonly TempFolder root = new();
    private readonly Random random;
    private readonly Queue<IncomingMessage> atSender = new();
    private readonly MessageDecoder decoder = new(TopicMap.Default);
    private readonly List<string> told = [];
    private readonly CollectedLog log = new CollectedLog().Expect(nameof(Log.NoticeDead));
    private readonly SoakNotices rules;
    private Duration set = Duration.Zero;
    private int starts;
    private bool isRebuilt;
    private DataDirectory data;
    private ChamberStore store = null!;
    private HomeClock clock = null!;
    private WatchInbox inbox = null!;
    private WatchWorker watch = null!;
    private NoticeSender sender = null!;

    public SoakHome(Random random, Instant start)
    {
        this.random = random;
        Machine.Time = start;
        rules = new(this);
        data = new(Path.Combine(root.Path, "0"));
        Directory.CreateDirectory(data.Path);
        using (var first = ChamberStore.Open(data.Database, Options))
        {
            foreach (var probe in Probes)
            {
                var spot = new SpotId(probe.Split('-')[0]);
                first.Ledger.SetUp.Save(new Spot(spot, SpotKind.HeatMat, LightLevel.Dim, 2));
                first.Ledger.SetUp.Save(new ProbeEntry(new(new(probe), Measurand.Media, Duration.FromHours(2))));
                first.Ledger.SetUp.Put(new(probe), spot, start);
            }
        }

        Open();
    }

    public SetClock Machine { get; } = new();

    /// <summary>The time that it is, whatever the machine's clock says.</summary>
    public Instant TrueTime => Machine.Time - set;

    /// <summary>When the clock was set the last time, in <see cref="TrueTime"/>.</summary>
    public Instant ClockSetAt { get; private set; } = Instant.MinValue;

    /// <summary>When a reading was taken in the last time, in <see cref="TrueTime"/>.</summary>
    public Instant HeardAt { get; private set; } = Instant.MinValue;

    /// <summary>Whether the ledger could not be used in the last turn.</summary>
    public bool HasFailed { get; private set; }

    public bool BrokerIsThere { get; set; } = true;

    public bool ChannelIsThere { get; set; } = true;

    /// <summary>Every reading that was acknowledged, as it was stored.</summary>
    public HashSet<(string Probe, long At, double Celsius)> Acknowledged { get; } = [];

    /// <summary>Names of the notices that people have got.</summary>
    public IReadOnlyList<string> Told => told;

    /// <summary>What must hold of notices.</summary>
    public SoakNotices Rules => rules;

    /// <summary>How often the log said that a notice was given up.</summary>
    public int GivenUpInLog => log.Lines.Count(line => line.Event.Name == nameof(Log.NoticeDead));

    /// <summary>Everything that happened, in order, with its time.</summary>
    public List<string> Trace { get; } = [];

    public ChamberStore Store => store;

    /// <summary>When the file takes nothing: its size is held, as by a full disk.</summary>
    public bool DiskIsFull { get; private set; }

    string INoticeChannel.Name => "soak";

    bool INoticeChannel.OnlyWhenUnseen => false;

    private StoreOptions Options => new()
    {
        Readings = Durability.ProcessEnd, Patience = TimeSpan.FromMilliseconds(1), Clock = (TimeProvider?)clock ?? Machine,
        PagesMax = DiskIsFull ? 1 : null,
    };

    Task<Delivery> INoticeChannel.SendAsync(Notice notice, CancellationToken cancellationToken)
    {
        rules.Tried(notice);
        if (!ChannelIsThere)
        {
            return Task.FromResult(Delivery.Later("nobody there"));
        }

        told.Add(notice.Id);
        Note($"told {told[^1]}: {notice.Title}");
        return Task.FromResult(Delivery.Done);
    }

    /// <summary>Each probe sends what it measures; what cannot be taken in waits with the sender.</summary>
    public void Send(double celsius)
    {
        foreach (var probe in Probes)
        {
            var value = probe == "mat-probe" ? celsius : 20 + random.Next(20) / 10.0;
            Machine.Pass(Duration.FromMilliseconds(5));
            var payload = string.Create(CultureInfo.InvariantCulture, $$"""{ "temperature": {{value}} }""");
            atSender.Enqueue(new($"chamber/{probe}/reading", Encoding.UTF8.GetBytes(payload), Retained: false, default));
        }
    }

    /// <summary>Takes in what is there, turns the watch once, and sends what is due.</summary>
    public async Task Turn()
    {
        while (BrokerIsThere && atSender.TryPeek(out var message) && inbox.Reader.Count < 200 && await TakeIn(message))
        {
            atSender.Dequeue();
        }

        HasFailed = false;
        try
        {
            if (!isRebuilt)
            {
                watch.Rebuild();
                isRebuilt = true;
            }

            watch.Work();
            await sender.SendDueAsync(CancellationToken.None);
        }
        catch (StoreException problem)
        {
            // It is tried again at the next turn.
            HasFailed = true;
            Note($"turn failed: {problem.Fault}");
        }

        rules.Look();
    }

    /// <summary>Somebody, or a time service, sets the machine's clock.</summary>
    public void SetClock(Duration by)
    {
        (set, ClockSetAt) = (set + by, TrueTime);
        Machine.Time += by;
    }

    /// <summary>How much the running watch holds on to, as <see cref="HeldObjects"/> counts it.</summary>
    public long Held() => HeldObjects.Count(watch, sender, inbox, clock);

    /// <summary>The process is killed: what lies on the disk is all that is left, and a new one starts there.</summary>
    public void Kill(bool diskIsFull = false)
    {
        Note($"killed, disk full: {diskIsFull}");
        var left = Image();
        store.Dispose();
        DiskIsFull = diskIsFull;
        data = left;
        Open();
    }

    /// <summary>Damages a copy of what lies on the disk: what it says then is right, or it says that it is damaged.</summary>
    public string? SilentDamage()
    {
        var copy = Image();
        var log = new FileInfo(copy.Database + "-wal");
        if (log is { Exists: true, Length: > 0 })
        {
            using var file = log.Open(FileMode.Open);
            file.SetLength(random.NextInt64(log.Length));
        }

        try
        {
            using var damaged = ChamberStore.Open(copy.Database, new() { Readings = Durability.ProcessEnd });
            return damaged.Damage is null ? Missing(damaged) : null;
        }
        catch (StoreException)
        {
            return null;
        }
    }

    /// <summary>The first acknowledged reading that is not there; null when all are.</summary>
    public string? Missing(ChamberStore from)
    {
        var stored = Probes.SelectMany(probe => from.Journal.ReadAll(new(probe), new(null, null)))
            .Select(reading => (reading.Probe.Text, reading.MeasuredAt.ToUnixTimeMilliseconds(), reading.Temperature!.Value.Celsius))
            .ToHashSet();
        return Acknowledged.FirstOrDefault(one => !stored.Contains(one)) is { Probe: not null } lost ? lost.ToString() : null;
    }

    public void Dispose()
    {
        store.Dispose();
        root.Dispose();
        log.Dispose();
    }

    private DataDirectory Image()
    {
        var image = new DataDirectory(Path.Combine(root.Path, (++starts).ToString(CultureInfo.InvariantCulture)));
        Directory.CreateDirectory(image.Path);
        foreach (var file in Directory.GetFiles(data.Path, "chamber.db*").Where(file => !file.EndsWith("-shm", StringComparison.Ordinal)))
        {
            File.Copy(file, Path.Combine(image.Path, Path.GetFileName(file)));
        }

        return image;
    }

    private void Open()
    {
        clock = new(Machine, DateTimeZone.Utc);
        store = ChamberStore.Open(data.Database, Options);
        clock.KnowPast(ServicePulse.Last(store.Ledger) ?? Instant.MinValue);
        var settings = new Settings { Home = new() { Zone = DateTimeZone.Utc } };
        var inForce = new SettingsInForce(settings, data, []);
        var home = new HomeContext(store, settings, data, clock);
        var composer = NoticeComposer.For(settings, data, () => null);
        sender = new(store.Ledger.Notices, () => [this], clock, random, log.For<NoticeSender>());
        var notices = new NoticeDesk(sender, new NoticeBell(), composer, clock);
        var desk = new AlertDesk(store, new(null!, NullLogger<RetainedAlerts>.Instance), notices, settings, inForce,
            NullLogger<AlertDesk>.Instance);
        var teller = new ClockTeller(clock, store, NullLogger<ClockTeller>.Instance);
        inbox = new();
        watch = new(store, new WatchFacts(home, inForce), inbox, desk, new Outages(store, () => BrokerIsThere, () => true, teller.Pass),
            new(), new AbsenceTeller(store, () => home.Read(), notices.Put, composer, NullLogger<AbsenceTeller>.Instance), new(Machine),
            clock, NullLogger<WatchWorker>.Instance);
        isRebuilt = false;
    }

    private async ValueTask<bool> TakeIn(IncomingMessage message)
    {
        Machine.Pass(Duration.FromMilliseconds(3));
        var batch = new DecodedBatch();
        decoder.Decode(message with { ReceivedAt = Instant.FromDateTimeOffset(clock.GetUtcNow()) }, batch);
        try
        {
            var result = store.Journal.Append(batch.Readings, batch.Refusals);
            HeardAt = TrueTime;
            foreach (var reading in batch.Readings)
            {
                Acknowledged.Add((reading.Probe.Text, reading.MeasuredAt.ToUnixTimeMilliseconds(), reading.Temperature!.Value.Celsius));
                Note($"stored {reading}");
            }

            await inbox.PostAsync(new(result.Changed, [.. batch.Refusals]), CancellationToken.None);
            return true;
        }
        catch (StoreException problem)
        {
            Note($"not stored: {problem.Fault}");
            return false;
        }
    }

    private void Note(string what) => Trace.Add($"{Machine.Time.ToUnixTimeMilliseconds()} {what}");
}
