using System.Globalization;
using Chamber.Core.Facts;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Writing;

namespace Chamber.Service.Commands.LookingBack;

/// <summary>How entries are named and shown at a terminal.</summary>
internal static class RecordWords
{
    /// <summary>What two words name; null when nothing was typed.</summary>
    /// <exception cref="BadInputException">They name nothing that has a history.</exception>
    public static FactSubject? Subject(string? what, string? name) => (what, name) switch
    {
        (null, _) => null,
        (_, null) when Enum.GetValues<FactSubjectKind>().Any(kind => Choice.Word(kind) == what) =>
            throw new BadInputException($"Which {what}?") { Hint = $"chamber history {what} NAME" },
        (_, null) => throw new BadInputException($"What is {what}: a batch, spot, lot or probe?")
        {
            Hint = $"chamber history batch {what}",
        },
        _ => new(Choice.Parse<FactSubjectKind>(what), name),
    };

    public static void Show(Screen screen, Invocation invocation, IReadOnlyList<HistoryLine> lines, int left)
    {
        if (lines.Count == 0)
        {
            screen.Headline("Nothing is written down yet.");
            return;
        }

        screen.Table([">No.", "When", "Written", "By", "What"], lines.Select(line => Row(invocation, line)));
        if (left > 0)
        {
            screen.Aside($"{left} older ones: chamber history --last {lines.Count + left}");
        }
    }

    /// <summary>Who, and by which way: <c>Ana, page</c>.</summary>
    public static string By(HistoryLine line) => line.By.Length > 0 ? $"{line.By}, {Choice.Words(line.Way)}" : Choice.Words(line.Way);

    private static string[] Row(Invocation invocation, HistoryLine line) =>
    [
        line.Number.ToString(CultureInfo.InvariantCulture),
        invocation.Show(line.At),
        invocation.Show(line.WrittenAt),
        By(line),
        line.Standing == EntryStanding.Counts ? line.What : $"{line.What} ({Choice.Words(line.Standing)})",
    ];
}
