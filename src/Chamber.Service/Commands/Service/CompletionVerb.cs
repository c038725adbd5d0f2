using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Commands.Service;

/// <summary>Prints what a shell needs so that Tab completes verbs and options. What can come next the program says itself.</summary>
internal static class CompletionVerb
{
    // The packages install the same files.
    private static readonly Dictionary<string, string> Scripts = new(StringComparer.Ordinal)
    {
        ["bash"] = "chamber.bash",
        ["zsh"] = "_chamber",
        ["fish"] = "chamber.fish",
        ["powershell"] = "chamber.ps1",
    };

    public static Verb Create()
    {
        var shell = Typed.Argument("shell", "bash, zsh, fish or powershell.", text => Scripts.ContainsKey(text) ? text
            : throw new FormatException($"\"{text}\" is no shell that is known here: write {string.Join(", ", Scripts.Keys)}."));
        return new Verb("completion", "Prints the script by which a shell completes verbs and options on Tab.", "chamber completion bash",
            "chamber completion fish") { shell }
            .Does(invocation =>
            {
                var script = Read(Scripts[invocation.Parse.GetValue(shell)!]);
                invocation.Answer(new { Script = script }, screen => screen.AsItIs(script.TrimEnd('\n')));
            });
    }

    private static string Read(string file)
    {
        using var reader = new StreamReader(typeof(CompletionVerb).Assembly.GetManifestResourceStream(file)!);
        return reader.ReadToEnd();
    }
}
