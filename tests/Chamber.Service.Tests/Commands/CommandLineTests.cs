using System.CommandLine;
using Chamber.Service.Commands;

namespace Chamber.Service.Tests.Commands;

public class CommandLineTests
{
    public static TheoryData<string[]> EveryVerb => [.. Paths(Verbs.All(), [])];

    [Fact]
    public async Task Nothing_typed_shows_the_help()
    {
        var outcome = await InProcess.Run();
        Assert.Equal((0, string.Empty), (outcome.Code, outcome.Error));
        Assert.Contains("Commands:", outcome.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_verb_is_found_by_its_name() =>
        Assert.Equal(Verbs.All().Select(verb => verb.Name), Verbs.Names);

    [Theory]
    [MemberData(nameof(EveryVerb))]
    public async Task Every_verb_has_help_with_an_example(string[] path)
    {
        var outcome = await InProcess.Run([.. path, "--help"]);
        Assert.Equal((0, string.Empty), (outcome.Code, outcome.Error));
        Assert.Contains($"\n  chamber {string.Join(' ', path)}", outcome.Out.Split("Examples:")[^1], StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("chamber: \"chamber\" has no \"sprout\". See: chamber --help\n", "sprout")]
    [InlineData("chamber: Unrecognized command or argument '--colour'. See: chamber about --help\n", "about", "--colour")]
    [InlineData("chamber: --units K: write C or F.\n", "about", "--units", "K")]
    public async Task Bad_input_gets_exit_code_2_and_one_line(string line, params string[] arguments)
    {
        var outcome = await InProcess.Run(arguments);
        Assert.Equal(new Outcome(2, string.Empty, line), outcome);
    }

    private static IEnumerable<string[]> Paths(IEnumerable<Command> commands, string[] parents) =>
        commands.SelectMany(command => command.Subcommands.Count > 0
            ? Paths(command.Subcommands, [.. parents, command.Name])
            : [[.. parents, command.Name]]);
}
