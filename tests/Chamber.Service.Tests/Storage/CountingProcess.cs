using System.Runtime.CompilerServices;
using Chamber.Core.Batches;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Storage;

/// <summary>Its own process that sees one more seedling of a batch, each time, than whoever looked before, until it and another have looked
/// often enough: this test program, started again with a variable that says where.</summary>
internal static class CountingProcess
{
    /// <summary>Both write at the same time: the first goes on until the second has come so far.</summary>
    public const int LooksMin = 30;

    public static readonly string[] Names = ["service", "terminal"];
    public static readonly BatchId Batch = new("T1");

    private const string Variable = "CHAMBER_TEST_COUNT_IN";

    public static RunningProgram Start(string path, string name) => RunningProgram.Start(
        Environment.ProcessPath!, [], environment: new Dictionary<string, string?> { [Variable] = $"{name} {path}" });

#pragma warning disable CA2255 // This assembly is a program: the initializer runs before its entry point, which belongs to the test runner.
    [ModuleInitializer]
#pragma warning restore CA2255
    internal static void CountAndNeverReturn()
    {
        if (Environment.GetEnvironmentVariable(Variable)?.Split(' ', 2) is not [var name, var path])
        {
            return;
        }

        using (var store = ChamberStore.Open(path))
        {
            while (!Names.All(who => store.Facts.Since(0).Count(entry => entry.By.Who == who) >= LooksMin))
            {
                CountOneMore(store.Home, new(name, WriteWay.CommandLine)).GetAwaiter().GetResult();
            }
        }

        Environment.Exit(0);
    }

    private static async Task CountOneMore(IHomeStore store, Author by)
    {
        for (var isWritten = false; !isWritten;)
        {
            try
            {
                await store.WriteAsync(by, DataFile.Start, home =>
                    home.Batch(Batch)!.Looks is [.., var last]
                        ? [new BatchLooked(Batch, last.Up + 1).At(last.At + Duration.FromMinutes(1))]
                        : [new BatchLooked(Batch, 1).At(DataFile.Start)]);
                isWritten = true;
            }
            catch (FactConflictException)
            {
                // Told; whoever counts looks again.
            }
        }
    }
}
