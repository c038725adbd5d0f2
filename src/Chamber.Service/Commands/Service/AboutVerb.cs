using Chamber.Service.Commands.Terminal;

namespace Chamber.Service.Commands.Service;

/// <summary>Which Chamber this is, and where its data is.</summary>
internal static class AboutVerb
{
    public static Verb Create() =>
        new Verb("about", "Which version this is, and where its data is.", "chamber about")
            .Does(invocation =>
            {
                var answer = new { Version = ProgramVersion.Text, Data = invocation.Data.Path };
                invocation.Answer(answer, screen =>
                {
                    screen.Say($"chamber {answer.Version}");
                    screen.Say($"data in {answer.Data}");
                });
            });
}
