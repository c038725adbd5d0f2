using System.Globalization;
using Chamber.Fuzz;
using Chamber.Testing;

// Chamber.Fuzz [INPUTS [READER...]]: bad input to each reader in turn, with a line every ten seconds and a table at the end. It stops at
// an input that is not answered, and keeps it in tests/cases/fuzz/found, with which every later run begins.
var inputs = args is [var count, ..] ? int.Parse(count, NumberStyles.AllowThousands, CultureInfo.InvariantCulture) : 1_000_000;
var wanted = args is [_, .. { Length: > 0 } named] ? named : [.. Readers.Names];
if (wanted.Except(Readers.Names).FirstOrDefault() is { } unknown)
{
    await Console.Error.WriteLineAsync($"There is no reader {unknown}; there are: {string.Join(' ', Readers.Names)}");
    return 2;
}

List<string> table = [$"{"reader",-16}{"inputs",10}{"used",10}{"refused",10}{"seconds",9}{"new",7}{"branches",10}{"failures",10}"];
foreach (var reader in wanted)
{
    var fuzzing = new Fuzzing(reader);
    var run = Task.Factory.StartNew(() => fuzzing.Run(inputs), CancellationToken.None, TaskCreationOptions.LongRunning,
        TaskScheduler.Default);
    await Ended(fuzzing, run);
    table.Add(Line(fuzzing));
    Console.WriteLine($"{table[0]}\n{table[^1]}");
    Keep(Directory.CreateDirectory(SourceTree.Path("artifacts", "fuzz-found")).FullName, reader, fuzzing.Found, isMore: false);
    if (fuzzing.Failure is { } failure)
    {
        KeepFailing(fuzzing);
        await Console.Error.WriteLineAsync($"{reader}, {failure}\n{Convert.ToHexString(fuzzing.Input)}\nKept in tests/cases/fuzz/found.");
        return 1;
    }
}

Console.WriteLine($"\n{string.Join('\n', table)}");
return 0;

string Line(Fuzzing fuzzing) => string.Create(CultureInfo.InvariantCulture,
    $"{fuzzing.Reader,-16}{fuzzing.Given,10:N0}{fuzzing.Used,10:N0}{fuzzing.Given - fuzzing.Used,10:N0}{fuzzing.Elapsed.TotalSeconds,9:F1}{
        fuzzing.Found.Count(),7:N0}{fuzzing.Branches,10:N0}{(fuzzing.Failure is null ? 0 : 1),10}");

// One input takes microseconds: whoever reads the same one for a minute of the processor's time hangs.
async Task Ended(Fuzzing fuzzing, Task run)
{
    var (before, since) = (-1, TimeSpan.Zero);
    while (await Task.WhenAny(run, Task.Delay(TimeSpan.FromSeconds(10), TimeProvider.System)) != run)
    {
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{fuzzing.Reader,-16}{fuzzing.Given,10:N0} of {inputs:N0}, {fuzzing.Used:N0} used, {fuzzing.Elapsed.TotalSeconds:F0} s"));
        if (fuzzing.Given != before)
        {
            (before, since) = (fuzzing.Given, Environment.CpuUsage.TotalTime);
        }
        else if (Environment.CpuUsage.TotalTime - since > TimeSpan.FromMinutes(1))
        {
            KeepFailing(fuzzing);
            await Console.Error.WriteLineAsync($"{fuzzing.Reader}, seed {fuzzing.Given}: hangs\n{Convert.ToHexString(fuzzing.Input)}");
            Environment.Exit(1);
        }
    }

    await run;
}

void KeepFailing(Fuzzing fuzzing) =>
    Keep(Directory.CreateDirectory(SourceTree.Path("tests", "cases", "fuzz", "found")).FullName, fuzzing.Reader, [fuzzing.Input],
        isMore: true);

void Keep(string folder, string reader, IEnumerable<byte[]> found, bool isMore)
{
    var path = Path.Combine(folder, Path.ChangeExtension(reader, ".hex"));
    var lines = found.Select(Convert.ToHexString);
    if (isMore)
    {
        File.AppendAllLines(path, lines);
    }
    else
    {
        File.WriteAllLines(path, lines);
    }
}
