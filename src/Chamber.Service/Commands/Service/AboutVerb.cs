using System.CommandLine;
using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Commands.Service;

/// <summary>Which Chamber this is, where its data is, and under which licences it and its parts are.</summary>
internal static class AboutVerb
{
    private static readonly string[] LicenceFiles = ["LICENSE", "THIRD-PARTY-NOTICES.txt"];

    public static Verb Create()
    {
        var licences =
            new Option<bool>("--licences") { Description = "Show the full licences of Chamber and of everything in it." };
        return new Verb("about", "Shows the version, and where the data is.", "chamber about", "chamber about --licences") { licences }
            .Does(invocation =>
            {
                var answer = new { Version = ProgramVersion.Text, Data = invocation.Data.Path };
                invocation.Answer(answer, screen =>
                {
                    if (invocation.Parse.GetValue(licences))
                    {
                        screen.AsItIs(Licences());
                        return;
                    }

                    screen.Say($"chamber {answer.Version}");
                    screen.Say($"data in {answer.Data}");
                });
            });
    }

    private static string Licences() => string.Join("\n\n", LicenceFiles.Select(name =>
    {
        using var reader = new StreamReader(typeof(AboutVerb).Assembly.GetManifestResourceStream($"licences/{name}")!);
        return reader.ReadToEnd();
    }));
}
