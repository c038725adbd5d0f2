using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;
using Microsoft.Extensions.Logging;

namespace Chamber.Mqtt.Intake;

/// <summary>
/// Commits a batch whatever the store says. The store's own condition is waited out. Any other error is tried a few times; then the
/// batch is halved again and again until the messages are found that the store will not take, each of which is set aside as a
/// refusal, so that one message never stands in the way of all others. Belongs to one thread.
/// </summary>
internal sealed class CommitRetry(Commit commit, TimeProvider time, IntakeOptions options, IntakeMetrics metrics, ILogger logger)
{
    private bool isFailing;

    /// <summary>Returns when each message is stored, or set aside.</summary>
    public async ValueTask CommitAsync(DecodedBatch batch, IReadOnlyList<Taken> taken, CancellationToken cancellationToken)
    {
        if (await TryAsync(batch, options.TriesMax, cancellationToken) is { } problem)
        {
            await PartAsync(batch, taken, 0, taken.Count, problem, cancellationToken);
        }
    }

    private async ValueTask HalveAsync(DecodedBatch batch, IReadOnlyList<Taken> taken, int from, int to,
        CancellationToken cancellationToken)
    {
        var part = batch.Part(from == 0 ? default : taken[from - 1].End, taken[to - 1].End, to - from);
        if (await TryAsync(part, triesMax: 1, cancellationToken) is { } problem)
        {
            await PartAsync(batch, taken, from, to, problem, cancellationToken);
        }
    }

    private async ValueTask PartAsync(DecodedBatch batch, IReadOnlyList<Taken> taken, int from, int to, Exception problem,
        CancellationToken cancellationToken)
    {
        if (to - from == 1)
        {
            await PutAsideAsync(batch.Part(from == 0 ? default : taken[from - 1].End, taken[from].End, 1), taken[from].Arrival.Message,
                problem, cancellationToken);
            return;
        }

        var middle = (from + to) / 2;
        await HalveAsync(batch, taken, from, middle, cancellationToken);
        await HalveAsync(batch, taken, middle, to, cancellationToken);
    }

    // A store that does not even take the refusal takes nothing at all: that is its condition, whatever it calls it.
    private async ValueTask PutAsideAsync(DecodedBatch refused, IncomingMessage message, Exception problem,
        CancellationToken cancellationToken)
    {
        var aside = new DecodedBatch();
        aside.PutAside(message, ProbeOf(refused));
        await TryAsync(aside, int.MaxValue, cancellationToken);
        metrics.CountPutAside();
        Log.PutAside(logger, problem, aside.Refusals[0].Source, problem.Message, aside.Refusals[0].Fix);
    }

    private static ProbeId? ProbeOf(DecodedBatch refused) =>
        refused.Readings.Concat(refused.LastKnown).Select(reading => (ProbeId?)reading.Probe)
            .Concat(refused.Refusals.Select(refusal => refusal.Probe)).FirstOrDefault();

    /// <summary>Null once the batch is committed; otherwise an error that does not pass, after so many tries.</summary>
    private async ValueTask<Exception?> TryAsync(DecodedBatch batch, int triesMax, CancellationToken cancellationToken)
    {
        var wait = options.RetryWaitMin;
        var tries = 0;
        while (true)
        {
            try
            {
                await commit(batch, cancellationToken);
                Note(batch);
                return null;
            }
            catch (Exception problem) when (problem is not OperationCanceledException || !cancellationToken.IsCancellationRequested)
            {
                metrics.CountFailure(problem.Message);
                var passes = options.Passes(problem);
                if (!passes && ++tries >= triesMax)
                {
                    return problem;
                }

                // Where the store is at fault its sentence says all; a trace is for whoever looks for a fault of ours.
                isFailing = true;
                Log.CommitFailed(logger, passes ? null : problem, batch.Messages, wait.TotalSeconds, problem.Message);
            }

            await Task.Delay(wait, time, cancellationToken);
            wait = options.WaitAfter(wait);
        }
    }

    private void Note(DecodedBatch batch)
    {
        metrics.CountCommitted(batch.Messages);
        if (isFailing)
        {
            isFailing = false;
            Log.CommitsAgain(logger);
        }
    }
}
