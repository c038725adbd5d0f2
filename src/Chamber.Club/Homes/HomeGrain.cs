using Chamber.Club.Checkpoints;
using Chamber.Club.Notices;
using Chamber.Club.Sharing;
using Chamber.Club.Store;
using Chamber.Club.Telemetry;
using Chamber.Core.Alerts;
using Microsoft.Extensions.Logging;
using NodaTime;

namespace Chamber.Club.Homes;

/// <summary>One home. It looks every minute at what has come in, and at once when it is told of heat; a reminder wakes it on another silo
/// when its own is gone.</summary>
internal sealed partial class HomeGrain(
    ClubDatabase club, ClubLearned learned, TimeProvider time, ILogger<HomeGrain> logger, ClubMail? mail = null)
    : Grain, IHomeGrain, IRemindable
{
    private const string Watch = "watch";
    private static readonly TimeSpan Minute = TimeSpan.FromMinutes(1);

    // How long a home that nothing is told of stays unwatched, at most, when its silo is gone.
    private static readonly TimeSpan WokenEvery = TimeSpan.FromMinutes(5);

    private WatchedHome? home;
    private IGrainTimer? looks;
    private HomeNotices? notices;
    private Task telling = Task.CompletedTask;
    private volatile bool mayWait = true;
    private bool isReminded;
    private bool isToldNow;
    private bool foundUntold;
    private long waiting;

    private Instant Now => Instant.FromDateTimeOffset(time.GetUtcNow());

    public override Task OnActivateAsync(CancellationToken cancellationToken)
    {
        var key = checked((int)this.GetPrimaryKeyLong());
        home = new(club, key, cancel => learned.OfAsync(key, cancel));
        ClubSignals.Homes.Add(1);
        looks = this.RegisterGrainTimer(LookAsync, new GrainTimerCreationOptions(TimeSpan.Zero, Minute) { KeepAlive = true });
        return Task.CompletedTask;
    }

    public override async Task OnDeactivateAsync(DeactivationReason reason, CancellationToken cancellationToken)
    {
        ClubSignals.Homes.Add(-1);
        ClubSignals.Outbox.Add(-waiting);
        await KeepAsync(now: null, cancellationToken);
    }

    public Task TellAsync()
    {
        (isToldNow, foundUntold) = (true, false);
        return Task.CompletedTask;
    }

    public Task TellOfHeatAsync()
    {
        looks!.Change(TimeSpan.Zero, Minute);
        return TellAsync();
    }

    // What the database answers is worked on outside the grain's own scheduler, whose one thread must not wait for itself.
    public async Task<ShownHome> ShowAsync()
    {
        var (isTold, isUntold) = (isToldNow, foundUntold);
        var shown = await Task.Run(() => home!.ShowAsync(Now, CancellationToken.None));
        return shown with { IsTold = isTold || (shown.IsTold && !isUntold) };
    }

    // That it is awake is all that is wanted.
    public Task ReceiveReminder(string reminderName, TickStatus status) => Task.CompletedTask;

    private async Task LookAsync(CancellationToken cancel)
    {
        var begun = time.GetTimestamp();
        try
        {
            var (told, isFirst) = (isToldNow, !home!.IsWatched);
            isToldNow = false;
            var (alerts, hadWaited) = await Task.Run(() => home.CatchUpAsync(Now, cancel), cancel);
            ClubSignals.LookTime.Record(time.GetElapsedTime(begun).TotalSeconds);
            ClubSignals.Alerts.Add(alerts.Count);
            foundUntold |= !told && !isFirst && hadWaited;
            Say(alerts, isFirst);

            await NotifyAsync(cancel);
            await KeepAsync(Now, cancel);
            if (home.Insight.Problem is { } problem)
            {
                NotForecast(logger, this.GetPrimaryKeyLong(), problem);
            }

            if (!isReminded)
            {
                await this.RegisterOrUpdateReminder(Watch, WokenEvery, WokenEvery, cancel);
                isReminded = true;
            }
        }
        catch (StoreException problem)
        {
            // The next look goes on where this one stopped.
            ClubSignals.LookFailures.Add(1);
            Waits(logger, this.GetPrimaryKeyLong(), problem.Message);
        }
    }

    // Alerts from the past of a home that wakes would bury what happens now; danger does not.
    private void Say(IReadOnlyList<Alert> alerts, bool isFirst)
    {
        var key = this.GetPrimaryKeyLong();
        if (isFirst)
        {
            if (home!.PassedOver is { } reason)
            {
                PassedOver(logger, key, reason);
            }

            var open = alerts.Count(alert => alert.ClosedAt is null);
            Woke(logger, key, open, alerts.Count - open);
            alerts = [.. alerts.Where(alert => alert.Kind == AlertKind.Hazard)];
        }

        foreach (var alert in alerts)
        {
            Told(logger, key, alert.Kind.Spelled, alert.Subject.Name);
        }
    }

    private async Task KeepAsync(Instant? now, CancellationToken cancel)
    {
        try
        {
            await Task.Run(() => home!.KeepAsync(now, cancel), cancel);
        }
        catch (Exception problem) when (problem is StoreException or GraphException or OperationCanceledException)
        {
            // Whoever wakes it reads its past.
            NotKept(logger, this.GetPrimaryKeyLong(), problem.Message);
        }
    }

    // A mail server that does not answer holds up no look: one telling at a time, beside them.
    private async Task NotifyAsync(CancellationToken cancel)
    {
        if (mail is null || !telling.IsCompleted)
        {
            return;
        }

        var key = checked((int)this.GetPrimaryKeyLong());
        notices ??= new(club, mail, key, await Task.Run(() => club.NameAsync(key, cancel), cancel));
        var (facts, insight, now) = (home!.Facts, home.Insight, Now);
        var day = notices.DigestDueAt(insight.Settings, now);
        if (!mayWait && day is null && !home.HasAlertsAt(now))
        {
            return;
        }

        telling = Task.Run(
            async () =>
            {
                try
                {
                    await notices.DecideAsync(facts, insight.Settings, now, CancellationToken.None);
                    if (day is { } due)
                    {
                        await notices.DigestAsync(insight.ReadAt(now), due, now, CancellationToken.None);
                    }

                    var (failed, waits) = await notices.SendAsync(now, CancellationToken.None);
                    mayWait = waits > 0;
                    ClubSignals.Outbox.Add(waits - Interlocked.Exchange(ref waiting, waits));
                    foreach (var reason in failed)
                    {
                        NotSent(logger, key, reason);
                    }
                }
                catch (StoreException problem)
                {
                    // What is in the outbox waits there.
                    Waits(logger, key, problem.Message);
                }
            },
            CancellationToken.None);
    }

    [LoggerMessage(LogLevel.Warning, "Home {Home}: a notice was not sent. {Reason}")]
    private static partial void NotSent(ILogger logger, long home, string reason);

    [LoggerMessage(LogLevel.Warning, "Home {Home} is watched without forecasts and surveys: {Problem}")]
    private static partial void NotForecast(ILogger logger, long home, string problem);

    [LoggerMessage(LogLevel.Information, "Home {Home} is watched. New alerts from its past: {Open} open, {Over} over.")]
    private static partial void Woke(ILogger logger, long home, int open, int over);

    [LoggerMessage(LogLevel.Warning, "Home {Home}: {Kind}, {Subject}.")]
    private static partial void Told(ILogger logger, long home, string kind, string subject);

    [LoggerMessage(LogLevel.Warning, "Home {Home}: how far it has come is not written down. {Problem}")]
    private static partial void NotKept(ILogger logger, long home, string problem);

    [LoggerMessage(LogLevel.Information, "Home {Home}: its checkpoint was passed over, and its past was read: {Reason}.")]
    private static partial void PassedOver(ILogger logger, long home, string reason);

    [LoggerMessage(LogLevel.Warning, "Home {Home} waits: {Problem}")]
    private static partial void Waits(ILogger logger, long home, string problem);
}
