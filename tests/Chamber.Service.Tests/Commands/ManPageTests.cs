using Chamber.Service.Commands.Terminal;
using Chamber.Testing;

namespace Chamber.Service.Tests.Commands;

/// <summary>The manual page is in step with the program, and man(1) of Debian's package reads it without a complaint.</summary>
public sealed class ManPageTests
{
    private static readonly string Page = SourceTree.Path("eng", "debian", "chamber.1");

    /// <summary>Rewritten when CHAMBER_ANSWERS is <c>write</c>.</summary>
    [Fact]
    public void It_is_in_step_with_the_program()
    {
        if (Environment.GetEnvironmentVariable("CHAMBER_ANSWERS") == "write")
        {
            File.WriteAllText(Page, ManPage.Write());
            return;
        }

        Assert.Equal(File.ReadAllText(Page), ManPage.Write());
    }

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public async Task A_reader_of_manual_pages_shows_every_verb_and_warns_of_nothing()
    {
        var shown = await RunningProgram.Run("man", ["--warnings", "--encoding=UTF-8", "--local-file", Page],
            environment: new Dictionary<string, string?> { ["MANWIDTH"] = "200", ["MAN_KEEP_FORMATTING"] = null, ["LC_ALL"] = "C.UTF-8" });

        Assert.Equal((0, ""), (shown.ExitCode, shown.Errors));
        Assert.All(CommandReference.Every(), (Verb verb) =>
            Assert.Contains($"   chamber {CommandReference.Path(verb)}\n", shown.Output, StringComparison.Ordinal));
        Assert.Contains("chamber - finds the best warm spot", shown.Output, StringComparison.Ordinal);
    }
}
