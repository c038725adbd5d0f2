using Chamber.Testing;

namespace Chamber.Service.Tests.Commands;

/// <summary>A request to stop is obeyed whatever a command is at.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class StopTests : IDisposable
{
    private const int Interrupted = 130;

    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task A_command_that_never_comes_back_is_ended_by_a_request_to_stop()
    {
        // Settings that never end coming: whoever opens a pipe waits for the other end.
        var settings = folder.File("chamber.json");
        (await RunningProgram.Run("mkfifo", [settings])).Succeeded();
        await using var command = ChamberProcess.Start("batches", "--data", folder.Path);
        await using var reachedByTheCommand = await Wait.For("the command to open its settings",
            Task.Run(() => new FileStream(settings, FileMode.Open, FileAccess.Write), TestContext.Current.CancellationToken));

        command.AskToStop();

        var ended = await command.End();
        Assert.Equal(Interrupted, ended.ExitCode);
        Assert.Equal("chamber: still busy 5 s after being asked to stop, so it ends here; what was taken in is recorded.",
            ended.Errors);
    }
}
