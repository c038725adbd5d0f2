using Chamber.Benchmarks.Storage;

// Each measures one part against a yardstick of the same run, because times differ from machine to machine and ratios less.
var benchmarks = new Dictionary<string, Action>(StringComparer.Ordinal)
{
    ["storage"] = StorageBenchmark.Run,
};

if (args is not [var name] || !benchmarks.TryGetValue(name, out var run))
{
    Console.Error.WriteLine($"Name one of: {string.Join(", ", benchmarks.Keys)}");
    return 2;
}

run();
return 0;
