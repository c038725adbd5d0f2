using System.CommandLine;
using System.Globalization;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Writing;

namespace Chamber.Service.Commands.LookingBack;

/// <summary>What was written down, when and by whom.</summary>
internal static class HistoryVerb
{
    private const int LinesUsual = 30;

    public static Verb Create()
    {
        var what = new Argument<string?>("what") { Description = "batch, spot, lot or probe; or the number of an entry.",
            Arity = ArgumentArity.ZeroOrOne };
        var name = new Argument<string?>("name") { Description = "Which one.", Arity = ArgumentArity.ZeroOrOne };
        var last = Typed.Option<int?>("--last", "N", "How many of the newest. Default: 30, or all of one thing.", text =>
            ShareText.Count(text, Core.Bounds.EntriesShown));
        return new Verb("history", "Shows what was written down, when and by whom. Nothing of it is ever lost.", "chamber history",
            "chamber history batch T3", "chamber history 28") { what, name, last }
            .LooksBack()
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                if (parse.GetValue(name) is null && long.TryParse(parse.GetValue(what), NumberStyles.None, CultureInfo.InvariantCulture,
                    out var number))
                {
                    ShowEntry(invocation, invocation.History.Entry(number));
                    return;
                }

                var subject = RecordWords.Subject(invocation, parse.GetValue(what), parse.GetValue(name), nameAlone: true);
                var lines = invocation.History.Of(subject);
                var shown = lines.TakeLast(parse.GetValue(last) ?? (subject is null ? LinesUsual : int.MaxValue)).ToList();
                invocation.Answer(shown, screen => RecordWords.Show(screen, invocation, shown, lines.Count - shown.Count));
            });
    }

    private static void ShowEntry(Invocation invocation, HistoryEntry entry) => invocation.Answer(entry, screen =>
    {
        RecordWords.Show(screen, invocation, [entry.Line], 0);
        foreach (var (part, value) in entry.Body)
        {
            screen.Say($"  {part}={value}");
        }

        screen.Aside($"To put it right: chamber correct {entry.Line.Number} NAME=VALUE, or chamber remove {entry.Line.Number}");
    });
}
