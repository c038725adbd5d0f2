using Polly;
using Polly.Retry;

namespace Chamber.Service.Mirror;

/// <summary>
/// Takes a step again until the server has it. Waits double from a second to five minutes, with jitter, so that several Chambers don't
/// knock at once; a server that asks to wait is never asked sooner.
/// </summary>
internal static class MirrorBackOff
{
    public static readonly TimeSpan First = TimeSpan.FromSeconds(1);
    public static readonly TimeSpan Longest = TimeSpan.FromMinutes(5);

    /// <summary>A server may ask for a long pause, but not for one without end.</summary>
    public static readonly TimeSpan AskedMax = TimeSpan.FromHours(1);

    private const int DoublingsMax = 20;

    /// <param name="clock">The clock that waits go by.</param>
    /// <param name="jitter">Spreads the waits.</param>
    /// <param name="tell">Called before each wait with what is in the way, and how long it is.</param>
    public static ResiliencePipeline<PumpStep> Of(TimeProvider clock, Random jitter, Action<string, TimeSpan> tell) =>
        new ResiliencePipelineBuilder<PumpStep> { TimeProvider = clock }
            .AddRetry(new RetryStrategyOptions<PumpStep>
            {
                ShouldHandle = args => ValueTask.FromResult(Trouble(args.Outcome) is not null),
                MaxRetryAttempts = int.MaxValue,
                BackoffType = DelayBackoffType.Exponential,
                Delay = First,
                MaxDelay = Longest,
                UseJitter = true,
                Randomizer = jitter.NextDouble,
                DelayGenerator = args =>
                    ValueTask.FromResult(args.Outcome.Result?.After is { } asked ? Asked(asked, args.AttemptNumber) : (TimeSpan?)null),
                OnRetry = args =>
                {
                    tell(Trouble(args.Outcome)!, args.RetryDelay);
                    return default;
                },
            })
            .Build();

    private static string? Trouble(Outcome<PumpStep> outcome) => outcome.Exception switch
    {
        null => outcome.Result!.Trouble,
        StoreException or IOException or BadInputException or FormatException => outcome.Exception.Message,
        _ => null,
    };

    // A server that always asks for a second is still asked less and less often.
    private static TimeSpan Asked(TimeSpan asked, int attempt)
    {
        var own = First * Math.Pow(2, Math.Min(attempt, DoublingsMax));
        return TimeSpan.FromTicks(Math.Min(AskedMax.Ticks, Math.Max(asked.Ticks, Math.Min(own.Ticks, Longest.Ticks))));
    }
}
