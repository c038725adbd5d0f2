using Chamber.Service.Notify;
using Chamber.Service.Tests.Notify;
using Chamber.Service.Workers;
using Chamber.Storage;
using Chamber.Testing;
using Microsoft.Extensions.Time.Testing;

namespace Chamber.Service.Tests.Faults;

/// <summary>Whatever a channel does with a notice, the other channel has it, and the next one too; by
/// tests/cases/faults/channels.csv.</summary>
public sealed class ChannelFaultTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly FakeTimeProvider clock = new(new(2027, 3, 1, 8, 0, 0, TimeSpan.Zero));
    private readonly CollectedLog log = new CollectedLog().Expect("NoticeFaulted").Expect("NoticeDead");
    private readonly ChamberStore store;

    public ChannelFaultTests() => store = ChamberStore.Open(folder.File("chamber.db"));

    public static TheoryData<string, string, string> Cases =>
        [.. FaultCases.Of("channels.csv").Select(line => (line[0], line[1], line[2]))];

    public void Dispose()
    {
        store.Dispose();
        folder.Dispose();
        log.Dispose();
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public async Task A_channel_that_fails_keeps_no_notice_from_another(string fault, string outcome, string reason)
    {
        var (bad, good) = (new Scripted("bad", fault), new Scripted("good", "none"));
        var sender = new NoticeSender(store.Ledger.Notices, () => [bad, good], clock, new Random(1), log.For<NoticeSender>());
        sender.Put(SampleNotice.TooHot);
        if (outcome == "waits alone")
        {
            await WaitsAlone(sender, good);
            return;
        }

        sender.Put(SampleNotice.TooHot with { Id = "another" });

        var isForEver = fault.EndsWith("for ever", StringComparison.Ordinal);
        for (var turn = 0; turn < (isForEver ? NoticeSender.AttemptsMax : 1); turn++)
        {
            await sender.SendDueAsync(TestContext.Current.CancellationToken);
            clock.Advance(TimeSpan.FromHours(8));
        }

        Assert.Equal(2, good.Taken);
        var dead = store.Ledger.Notices.Dead();
        if (outcome == "set aside")
        {
            Assert.Contains(dead, notice => notice.Channel == "bad" && notice.Error == reason);
            Assert.DoesNotContain(store.Ledger.Notices.Waiting(), notice => notice.Channel == "good");
            return;
        }

        Assert.Empty(dead);
        Assert.Contains(reason, log.Lines.Select(line => line.Message).Aggregate((one, next) => one + next), StringComparison.Ordinal);
        await sender.SendDueAsync(TestContext.Current.CancellationToken);
        await sender.SendDueAsync(TestContext.Current.CancellationToken);
        Assert.Equal((2, 2), (bad.Taken, good.Taken));
    }

    // A notice that is put while one channel hangs reaches the other all the same.
    private async Task WaitsAlone(NoticeSender sender, Scripted good)
    {
        using var bell = new NoticeBell();
        using var worker = new NoticeWorker(sender, bell, clock, log.For<NoticeWorker>());
        await worker.StartAsync(TestContext.Current.CancellationToken);
        await Wait.Until("the first notice", () => good.Taken == 1);
        sender.Put(SampleNotice.TooHot with { Id = "another" });
        bell.Ring();

        await Wait.Until("the second notice", () => good.Taken == 2);
        Assert.Null(sender.NextAt());
        await worker.StopAsync(new CancellationToken(canceled: true));
    }

    private sealed class Scripted(string name, string fault) : INoticeChannel
    {
        private bool hasFailed;

        public string Name => name;

        public bool OnlyWhenUnseen => false;

        public int Taken { get; private set; }

        public Task<Delivery> SendAsync(Notice notice, CancellationToken cancellationToken)
        {
            if (fault == "none" || (hasFailed && !fault.EndsWith("for ever", StringComparison.Ordinal)))
            {
                Taken++;
                return Task.FromResult(Delivery.Done);
            }

            hasFailed = true;
            return fault switch
            {
                "throws" or "throws for ever" => Task.FromException<Delivery>(new InvalidOperationException("out of paper")),
                "throws before it begins" => throw new InvalidOperationException("out of paper"),
                "gives up its own wait" => Task.FromException<Delivery>(new TaskCanceledException()),
                "is away" or "is away for ever" => Task.FromResult(Delivery.Later("nobody there")),
                "hangs" => new TaskCompletionSource<Delivery>().Task.WaitAsync(cancellationToken),
                "refuses" => Task.FromResult(Delivery.Never("wrong address")),
                _ => throw new ArgumentOutOfRangeException(nameof(notice), fault, "No such fault."),
            };
        }
    }
}
