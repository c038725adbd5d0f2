using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Jobs;
using BenchmarkDotNet.Toolchains.InProcess.Emit;

namespace Chamber.Benchmarks;

/// <summary>A few runs in this process itself: a generated project would not find the output of this build.</summary>
internal static class ShortInProcess
{
    public static IConfig Config => DefaultConfig.Instance
        .AddJob(Job.ShortRun.WithToolchain(InProcessEmitToolchain.Instance))
        .WithArtifactsPath(Path.Combine(Path.GetTempPath(), "chamber-benchmarks"));
}
