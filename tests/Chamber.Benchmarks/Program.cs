using BenchmarkDotNet.Running;
using Chamber.Benchmarks;
using Chamber.Benchmarks.Club;
using Chamber.Benchmarks.Pipeline;
using Chamber.Benchmarks.Running;
using Chamber.Benchmarks.Storage;

// Each measures one part against a yardstick of the same run, because times differ from machine to machine and ratios less.
var benchmarks = new Dictionary<string, Func<string[], Task<int>>>(StringComparer.Ordinal)
{
    ["watch"] = _ => Plain(WatchBenchmark.Run),
    ["home"] = _ => Plain(HomeBenchmark.Run),
    ["club"] = ClubLoad.Run,
    ["club-cold"] = ColdHomes.Run,
    ["club-home"] = ClubAgainstHome.Run,
    ["facts"] = _ => Plain(FactsBenchmark.Run),
    ["fold"] = _ => Plain(() => BenchmarkRunner.Run<FoldBenchmarks>(ShortInProcess.Config)),
    ["learning"] = _ => Plain(() => BenchmarkRunner.Run<LearningBenchmarks>(ShortInProcess.Config)),
    ["ranking"] = _ => Plain(() => BenchmarkRunner.Run<RankingBenchmarks>(ShortInProcess.Config)),
    ["signals"] = _ => Plain(() => BenchmarkRunner.Run<SignalsBenchmarks>(ShortInProcess.Config)),
    ["storage"] = _ => Plain(StorageBenchmark.Run),
    ["sums"] = _ => Plain(SumsBenchmark.Run),
    ["pipeline"] = PipelineComparison.Run,
    ["parts"] = rest => Plain(() => PipelineParts.Run(rest)),
    ["micro"] = rest => Plain(() => BenchmarkSwitcher.FromAssembly(typeof(PipelineComparison).Assembly).Run(rest)),
    ["start"] = StartBenchmark.Run,
    ["verbs"] = VerbsBenchmark.Run,
    ["rest"] = RestBenchmark.Run,
    ["paint"] = PaintBenchmark.Run,
    ["live"] = LiveBenchmark.Run,
    ["words"] = WordsBenchmark.Run,
    ["attacks"] = AttackBenchmark.Run,
    ["chart"] = _ => Plain(ChartBenchmark.Run),
    ["years"] = YearsBenchmark.Run,
    ["contender"] = PipelineComparison.Contend,
    ["attacked-broker"] = AttackBenchmark.Broker,
};

if (args is not [var name, .. var rest] || !benchmarks.TryGetValue(name, out var run))
{
    await Console.Error.WriteLineAsync($"Name one of: {string.Join(", ", benchmarks.Keys.Except(["contender", "attacked-broker"]))}");
    return 2;
}

return await run(rest);

static Task<int> Plain(Action run)
{
    run();
    return Task.FromResult(0);
}
