using System.Text.Json;
using Chamber.Testing;
using Microsoft.Extensions.Time.Testing;

namespace Chamber.Service.Tests.Commands;

/// <summary>Its own data directory, a clock that a test moves, and the command line on both.</summary>
internal sealed class HomeRig : IDisposable
{
    private readonly TempFolder folder = new();

    public FakeTimeProvider Clock { get; } = new(new DateTimeOffset(2027, 3, 1, 8, 0, 0, TimeSpan.Zero));

    public string Path => folder.Path;

    public string File(string name) => folder.File(name);

    public string Write(string name, string text) => folder.Write(name, text);

    public Task<Outcome> Run(params string[] arguments) => InProcess.Run(Clock, [.. arguments, "--data", folder.Path]);

    /// <summary>Runs lines that must all succeed.</summary>
    public async Task Do(params string[] lines)
    {
        foreach (var line in lines)
        {
            var outcome = await Run(line.Split(' '));
            Assert.True(outcome.Code == 0, $"{line}: {outcome.Error}");
        }
    }

    public async Task<JsonElement> Json(params string[] arguments)
    {
        var outcome = await Run([.. arguments, "--json"]);
        Assert.True(outcome.Code == 0, outcome.Error);
        return JsonDocument.Parse(outcome.Out).RootElement;
    }

    /// <summary>The one line with which a command line is refused.</summary>
    public async Task<string> Refusal(params string[] arguments)
    {
        var outcome = await Run(arguments);
        Assert.Equal((2, string.Empty), (outcome.Code, outcome.Out));
        return Assert.Single(outcome.Error.TrimEnd('\n').Split('\n'));
    }

    public void Dispose() => folder.Dispose();
}
