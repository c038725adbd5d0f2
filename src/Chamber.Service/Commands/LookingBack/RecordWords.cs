using System.Globalization;
using Chamber.Core.Facts;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Writing;

namespace Chamber.Service.Commands.LookingBack;

/// <summary>How entries are named and shown at a terminal.</summary>
internal static class RecordWords
{
    /// <summary>What two words name; null when nothing was typed.</summary>
    /// <param name="invocation">The home, and the verb that is to be typed.</param>
    /// <param name="what">batch, spot, lot or probe.</param>
    /// <param name="name">Its name.</param>
    /// <param name="nameAlone">Whether the name alone will do, where it names one thing: not for what takes something away.</param>
    /// <exception cref="BadInputException">They name nothing that has a history.</exception>
    public static FactSubject? Subject(Invocation invocation, string? what, string? name, bool nameAlone = false)
    {
        if (what is null || name is not null)
        {
            return what is null ? null : new(Choice.Parse<FactSubjectKind>(what), name!);
        }

        var verb = $"chamber {invocation.Parse.CommandResult.Command.Name}";
        if (Enum.GetValues<FactSubjectKind>().Any(kind => Choice.Word(kind) == what))
        {
            throw new BadInputException($"Which {what}?") { Hint = $"{verb} {what} NAME" };
        }

        var kinds = new NamedHere(invocation).Recorded(what);
        return kinds switch
        {
            [] => throw new BadInputException($"There is no batch, spot, lot or probe \"{what}\".")
            {
                Hint = $"Say which: {verb} batch NAME",
            },
            [var only] when nameAlone => new(Choice.Parse<FactSubjectKind>(only), what),
            [var first, ..] => throw new BadInputException($"What is {what}: a batch, spot, lot or probe?")
            {
                Hint = $"{verb} {first} {what}",
            },
        };
    }

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
