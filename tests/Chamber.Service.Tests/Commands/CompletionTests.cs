using Chamber.Testing;

namespace Chamber.Service.Tests.Commands;

/// <summary>
/// Tab in real shells, from Debian's packages, each on a terminal of its own that zsh's zpty module makes. PowerShell is in no package of
/// Debian: its script is checked by its structure alone, against the parameters that its documentation gives to such a script block
/// (about Register-ArgumentCompleter -Native: the word, the syntax tree of the command, the position of the cursor).
/// </summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class CompletionTests : IDisposable
{
    // What is typed comes back too, so no word that is waited for stands there as it will come.
    private const string Driver = """
        zmodload zsh/zpty
        zpty shell "$1"
        zpty -w shell "$2; echo REA''DY"
        zpty -r shell heard '*READY*'
        zpty -w -n shell "$3"
        zpty -w shell " $4; echo EN''D"
        zpty -r shell heard '*END*'
        print -r -- "$heard"
        zpty -d shell
        """;

    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("bash", "chamber foreca", "--help", "Says when seed would be up")]
    [InlineData("bash", "chamber plan --plan", "3 --germination 0.8", "Sow 5 seeds")]
    [InlineData("zsh", "chamber foreca", "--help", "Says when seed would be up")]
    [InlineData("zsh", "true && chamber plan --plan", "3 --germination 0.8", "Sow 5 seeds")]
    [InlineData("fish", "chamber foreca", "--help", "Says when seed would be up")]
    [InlineData("fish", "true && chamber plan --plan", "3 --germination 0.8", "Sow 5 seeds")]
    public async Task Tab_completes_verbs_and_options(string shell, string typed, string rest, string answer)
    {
        var script = (await InProcess.Run("completion", shell)).Out;
        var (start, setUp) = shell switch
        {
            "zsh" => ("zsh -f -i",
                $"fpath=({Write("_chamber", script)} $fpath); autoload -U compinit; compinit -u -d {folder.File("dump")}"),
            "fish" => ("fish --private --no-config -i", $"source {Write("chamber.fish", script)}/chamber.fish"),
            _ => ("bash --norc --noprofile -i", $". {Write("chamber.bash", script)}/chamber.bash"),
        };
        var heard = (await RunningProgram.Run("zsh", ["-f", "-c", Driver, "zsh", start, setUp, typed + "\t", rest],
            environment: new Dictionary<string, string?>
            {
                ["PATH"] = $"{Path.GetDirectoryName(ChamberProcess.Program)}:{Environment.GetEnvironmentVariable("PATH")}",
                ["HOME"] = folder.Path,
                ["TERM"] = "dumb",
                ["CHAMBER_DATA"] = folder.File("home"),
            })).Succeeded();
        Assert.Contains(answer, heard, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_cursor_beyond_the_command_completes_what_comes_next()
    {
        // PowerShell gives the command without the blank that was typed after it.
        var outcome = await InProcess.Run("[suggest:8]", "chamber");
        Assert.Equal((0, ""), (outcome.Code, outcome.Error));
        Assert.Contains("forecast\n", outcome.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_script_of_PowerShell_has_the_structure_of_a_native_completer()
    {
        var script = (await InProcess.Run("completion", "powershell")).Out;
        Assert.Matches(@"(?s)^# [^\n]*\nRegister-ArgumentCompleter -Native -CommandName chamber -ScriptBlock \{\s+"
            + @"param\(\$word, \$line, \$position\)\s+chamber ""\[suggest:\$position\]"" ""\$line"" .*\n\}\s*$", script);
        foreach (var (open, close) in ((char, char)[])[('{', '}'), ('(', ')'), ('[', ']')])
        {
            Assert.Equal(script.Count(letter => letter == open), script.Count(letter => letter == close));
        }

        Assert.Equal(0, script.Count(letter => letter == '"') % 2);
    }

    // The folder it lies in.
    private string Write(string name, string text)
    {
        folder.Write(name, text);
        return folder.Path;
    }
}
