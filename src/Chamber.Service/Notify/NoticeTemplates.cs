using Chamber.Service.Configuration;

namespace Chamber.Service.Notify;

/// <summary>What a notice is for; each has a template.</summary>
internal enum NoticeForm
{
    AlertOpened,
    AlertWorse,
    AlertAgain,
    AlertOver,
    AlertMissed,
    NotWatched,
    CannotStore,
    Digest,
    Test,
}

/// <summary>The templates of this home: the usual ones, and over them the files <c>templates/alert-opened.txt</c> and so on of the data
/// directory.</summary>
internal sealed class NoticeTemplates
{
    private static readonly string[] AlertNames = ["title", "what", "harm", "to-do", "caution", "caution-line", "subject", "severity",
        "since", "unseen"];

    private static readonly Dictionary<NoticeForm, (string[] Names, string Text)> Usual = new()
    {
        [NoticeForm.AlertOpened] = (AlertNames, "{title}\n{what}\n{harm}\n{to-do}\n{caution}"),
        [NoticeForm.AlertWorse] = (AlertNames, "Worse: {title}\n{what}\n{harm}\n{to-do}\n{caution}"),
        [NoticeForm.AlertAgain] = (AlertNames, "Still: {title}\n{unseen}\n{what}\n{harm}\n{to-do}\n{caution-line}"),
        [NoticeForm.AlertOver] = (AlertNames, "Over: {title}\n{what}\n{harm}"),
        [NoticeForm.AlertMissed] = (AlertNames, "It was, and is over: {title}\n{what}\n{harm}\n{caution}"),
        [NoticeForm.NotWatched] = (["title", "spots"],
            "{title}\n{spots}\nForecasts fill such a time from what is usual on each spot, and say how much of it is an estimate."),
        [NoticeForm.CannotStore] = (["title", "trouble", "since"],
            "{title}\nSince {since}: {trouble}\nUntil it is fixed alerts may be missing, so look at your warm spots yourself."),
        [NoticeForm.Digest] = (
            ["title", "to-do", "coming", "up", "spots", "alerts", "not-watched"],
            "{title}\nToday:\n{to-do}\n\nWhat is wrong:\n{alerts}\n\nCame up:\n{up}\n\nComing:\n{coming}\n\nThe last "
                + "day:\n{spots}\n\nNobody watched from:\n{not-watched}"),
        [NoticeForm.Test] = (["channel", "time"],
            "Chamber can reach you\nThis is a test of {channel}, sent at {time}. Alerts come this way."),
    };

    private readonly Dictionary<NoticeForm, NoticeTemplate> templates;

    /// <summary>The usual ones alone.</summary>
    public static NoticeTemplates Plain { get; } =
        new(Usual.ToDictionary(one => one.Key, one => NoticeTemplate.Parse(FileOf(one.Key), one.Value.Text, one.Value.Names)));

    private NoticeTemplates(Dictionary<NoticeForm, NoticeTemplate> templates) => this.templates = templates;

    /// <exception cref="BadInputException">A file there cannot be used, or is none of them; the message names file, line and
    /// fix.</exception>
    public static NoticeTemplates Load(DataDirectory data)
    {
        if (Directory.Exists(data.Templates))
        {
            var known = Enum.GetValues<NoticeForm>().Select(FileOf).ToHashSet(StringComparer.Ordinal);
            foreach (var stray in Directory.EnumerateFiles(data.Templates, "*.txt").Select(Path.GetFileName)
                .Where(name => !known.Contains(name!)).Order(StringComparer.Ordinal))
            {
                throw new BadInputException(
                    $"{Path.Combine(data.Templates, stray!)} is no template; there are {string.Join(", ", known)}.");
            }
        }

        return new(Enum.GetValues<NoticeForm>().ToDictionary(form => form, form => Load(data, form)));
    }

    /// <summary>The usual text, to start one's own from.</summary>
    public static string UsualText(NoticeForm form) => Usual[form].Text;

    /// <summary>The names that may stand in it.</summary>
    public static IReadOnlyList<string> NamesOf(NoticeForm form) => Usual[form].Names;

    public static string FileOf(NoticeForm form) => $"{Choice.Word(form)}.txt";

    public (string Title, string Body) Fill(NoticeForm form, IReadOnlyDictionary<string, string> values) => templates[form].Fill(values);

    private static NoticeTemplate Load(DataDirectory data, NoticeForm form)
    {
        var (names, usual) = Usual[form];
        var path = Path.Combine(data.Templates, FileOf(form));
        try
        {
            return File.Exists(path) ? NoticeTemplate.Parse(path, File.ReadAllText(path), names)
                : NoticeTemplate.Parse(FileOf(form), usual, names);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{path} cannot be read: {FileFault.Of(problem)}", problem);
        }
    }
}
