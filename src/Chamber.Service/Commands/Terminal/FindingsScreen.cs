using Chamber.Service.Checks;

namespace Chamber.Service.Commands.Terminal;

/// <summary>How <c>check</c> tells what it found.</summary>
internal static class FindingsScreen
{
    public static void Show(Screen screen, IReadOnlyList<Finding> findings)
    {
        screen.Headline(findings.All(finding => finding.Good) ? "All is well." : "Something needs attention.");
        screen.Table(["", "", ""], findings.Select(finding => new[] { Word(finding.State), finding.What, finding.Line }));
    }

    public static int Code(IReadOnlyList<Finding> findings) => findings.All(finding => finding.Good) ? ExitCode.Done : ExitCode.Failed;

    private static string Word(FindingState state) => state switch
    {
        FindingState.Good => "good",
        FindingState.Note => "note",
        _ => "WRONG",
    };
}
