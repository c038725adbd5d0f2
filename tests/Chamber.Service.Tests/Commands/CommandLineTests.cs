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
        Assert.Contains("Start here:\n  chamber demo ", outcome.Out, StringComparison.Ordinal);
        Assert.All(outcome.Out.Split('\n'), line => Assert.True(line.Length <= 80, line));
        Assert.Equal(outcome, await InProcess.Run("help"));
    }

    [Fact]
    public void Every_verb_stands_in_one_group_of_the_help()
    {
        Assert.Equal(Verbs.Names.Order(), Verbs.Rooms.SelectMany(room => room.Verbs).Order());
    }

    [Fact]
    public async Task Help_of_a_verb_is_its_help() =>
        Assert.Equal(await InProcess.Run("spot", "add", "--help"), await InProcess.Run("help", "spot", "add"));

    [Theory]
    [InlineData("\"chamber\" has no \"raed\". Did you mean read? See: chamber --help", "help", "raed")]
    [InlineData("\"chamber\" has no \"raed\". Did you mean read? See: chamber --help", "raed", "--help")]
    [InlineData("\"chamber spot\" has no \"ad\". Did you mean add? See: chamber spot --help", "help", "spot", "ad")]
    [InlineData("\"chamber look\" needs batch and up, as in: chamber look T3 0. See: chamber look --help", "look")]
    [InlineData("\"chamber look\" needs up, as in: chamber look T3 0. See: chamber look --help", "look", "T1")]
    [InlineData("\"chamber note\" needs text, as in: ", "note", "T1")]
    [InlineData("\"chamber sow\" needs --spot, as in: ", "sow", "basil", "--seeds", "3")]
    public async Task What_is_missing_or_no_verb_is_said_by_its_name(string line, params string[] words)
    {
        var outcome = await InProcess.Run(words);
        Assert.Equal((2, ""), (outcome.Code, outcome.Out));
        Assert.StartsWith($"chamber: {line}", outcome.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("spot")]
    [InlineData("lot")]
    [InlineData("test")]
    [InlineData("calibrate")]
    [InlineData("broker-user")]
    [InlineData("config")]
    public async Task A_group_alone_says_what_it_can_do(string group)
    {
        var outcome = await InProcess.Run(group);
        Assert.Equal((0, string.Empty), (outcome.Code, outcome.Error));
        Assert.Contains($" {group} [command]", outcome.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("crop", "crops")]
    [InlineData("plans", "plan")]
    [InlineData("batch", "batches")]
    public async Task A_noun_with_an_s_too_many_or_too_few_is_that_noun(string typed, string name) =>
        Assert.Equal(await InProcess.Run(name, "--help"), await InProcess.Run(typed, "--help"));

    [Theory]
    [InlineData("[suggest:10]", "chamber sp", "spot")]
    [InlineData("[suggest:20]", "chamber sow basil --", "--seeds")]
    [InlineData("[suggest:19]", "chamber completion ", "")]
    public async Task A_shell_is_told_what_can_come_next(string at, string line, string next)
    {
        var outcome = await InProcess.Run(at, line);
        Assert.Equal((0, string.Empty), (outcome.Code, outcome.Error));
        Assert.Contains(next, outcome.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("bash")]
    [InlineData("zsh")]
    [InlineData("fish")]
    [InlineData("powershell")]
    public async Task A_shell_gets_its_script(string shell) =>
        Assert.StartsWith("# Tab completion of chamber", (await InProcess.Run("completion", shell)).Out.Replace("#compdef chamber\n", "",
            StringComparison.Ordinal), StringComparison.Ordinal);

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
    [InlineData("chamber: \"chamber\" has no \"hedgehog\". See: chamber --help\n", "hedgehog")]
    [InlineData("chamber: \"chamber about\" has no --colour. See: chamber about --help\n", "about", "--colour")]
    [InlineData("chamber: --units K: write C or F.\n", "about", "--units", "K")]
    [InlineData("chamber: \"chamber\" has no \"foercast\". Did you mean forecast? See: chamber --help\n", "foercast")]
    [InlineData("chamber: \"chamber spot\" has no \"ad\". Did you mean add? See: chamber spot --help\n", "spot", "ad")]
    [InlineData("chamber: \"chamber sow\" has no --seed. Did you mean --seeds? See: chamber sow --help\n", "sow", "basil", "--seed", "9",
        "--spot", "mat")]
    [InlineData("chamber: --seeds \"many\" is not a whole number. See: chamber sow --help\n", "sow", "basil", "--seeds", "many", "--spot",
        "mat")]
    [InlineData("chamber: up \"few\" is not a whole number. See: chamber look --help\n", "look", "T1", "few")]
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
