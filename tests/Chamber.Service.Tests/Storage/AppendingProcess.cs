using System.Runtime.CompilerServices;
using Chamber.Core.Climate;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Storage;

/// <summary>
/// Its own process that does nothing but append numbered readings and say which are committed, so that it can be killed.
/// It is this test program, started again with a variable that says where to append.
/// </summary>
internal static class AppendingProcess
{
    public const int BatchSize = 50;
    public static readonly ProbeId Probe = new("numbered");

    private const string Variable = "CHAMBER_TEST_APPEND_TO";

    public static RunningProgram Start(string path, string? shellLimit = null) => RunningProgram.Start(
        "/bin/sh",
        ["-c", $"{shellLimit ?? ":"}; exec \"$0\"", Environment.ProcessPath!],
        environment: new Dictionary<string, string?>
        {
            [Variable] = path,
            // A limit on the size of files would also hit the memory file in which the runtime keeps its code twice.
            ["DOTNET_EnableWriteXorExecute"] = "0",
        });

    public static Reading Numbered(long number)
    {
        var at = DataFile.Start + Duration.FromSeconds(number);
        return new(Probe, at, at, Temperature.FromCelsius(number % 40));
    }

#pragma warning disable CA2255 // This assembly is a program: the initializer runs before its entry point, which belongs to the test runner.
    [ModuleInitializer]
#pragma warning restore CA2255
    internal static void AppendAndNeverReturn()
    {
        if (Environment.GetEnvironmentVariable(Variable) is not { Length: > 0 } path)
        {
            return;
        }

        try
        {
            Append(path);
        }
        catch (StoreException exception)
        {
            Console.WriteLine($"fault {exception.Fault}: {exception.Message}");
            Environment.Exit(3);
        }
    }

    private static void Append(string path)
    {
        using var store = ChamberStore.Open(path);
        var number = store.Journal.Size().Readings;
        while (true)
        {
            store.Journal.Append([.. Enumerable.Range(0, BatchSize).Select(offset => Numbered(number + offset))], []);
            number += BatchSize;
            Console.WriteLine($"committed {number}");
        }
    }
}
