using System.Text.RegularExpressions;
using Chamber.Testing;

namespace Chamber.Browser.Tests.Rig;

/// <summary>The demo, running: every kind of spot, alert and batch. Tests that change things run their own home.</summary>
public sealed partial class SampleHome : IAsyncLifetime
{
    private RunningProgram demo = null!;

    public string Address { get; private set; } = "";

    public async ValueTask InitializeAsync()
    {
        // At the pace of the wall clock, so that two pictures show the same day.
        demo = ChamberProcess.Start("demo", "--speed", "1", "--page-port", $"{FreePort.Next()}", "--broker-port", $"{FreePort.Next()}");
        Address = PageAddress().Match(await demo.Line("Chamber is ready")).Groups[1].Value;
        await demo.Line("Nothing heard from sill-air");
    }

    public async ValueTask DisposeAsync()
    {
        // Asked to, the demo takes its home away with it.
        demo.AskToStop();
        await demo.End();
        await demo.DisposeAsync();
    }

    [GeneratedRegex("The page: (https?://[^ ]*[0-9])")]
    internal static partial Regex PageAddress();
}
