using BenchmarkDotNet.Attributes;

namespace Chamber.Benchmarks;

/// <summary>What the measurements of a commit cost while nobody listens: they must not be felt beside a commit of half a
/// millisecond.</summary>
[MemoryDiagnoser]
public class SignalsBenchmarks
{
    private readonly TimeProvider clock = TimeProvider.System;

    [Benchmark]
    public bool CommitWhileNobodyListens()
    {
        using var span = Signals.Spans.StartActivity("commit");
        var begun = Signals.Begin(Signals.CommitTime, clock);
        Signals.Since(Signals.CommitTime, begun, clock);
        span?.SetTag("readings", 1);
        return Signals.Lag.Enabled;
    }
}
