using System.Text.RegularExpressions;

namespace Chamber.Service.Notify;

/// <summary>
/// The words of a notice with names in curly brackets where something is put in. The first line is the title. A line, or a
/// paragraph, in which everything that was to be put in is empty is left out.
/// </summary>
internal sealed partial class NoticeTemplate
{
    private readonly string[] lines;

    private NoticeTemplate(string[] lines) => this.lines = lines;

    /// <exception cref="BadInputException">A name that cannot stand there, a bracket without its mate, or no title; the message begins with
    /// the origin.</exception>
    public static NoticeTemplate Parse(string origin, string text, IReadOnlyList<string> known)
    {
        var lines = text.ReplaceLineEndings("\n").TrimEnd('\n').Split('\n');
        if (string.IsNullOrWhiteSpace(lines[0]))
        {
            throw new BadInputException(
                $"{origin} line 1: the title is missing: the first line of a template is its title, such as {{title}}.");
        }

        for (var i = 0; i < lines.Length; i++)
        {
            foreach (Match name in Name().Matches(lines[i]))
            {
                if (!known.Contains(name.Groups[1].Value))
                {
                    throw new BadInputException($"{origin} line {i + 1}: {name.Value} is not known here; there are "
                        + $"{string.Join(", ", known.Select(one => $"{{{one}}}"))}.");
                }
            }

            if (Name().Replace(lines[i], "") is var rest && rest.IndexOfAny(['{', '}']) >= 0)
            {
                throw new BadInputException($"{origin} line {i + 1}: a curly bracket stands alone; write names as {{title}}.");
            }
        }

        return new(lines);
    }

    /// <summary>Puts the values in; a name without a value is empty.</summary>
    public (string Title, string Body) Fill(IReadOnlyDictionary<string, string> values)
    {
        var title = Line(lines[0], values).ReplaceLineEndings(" ");
        var paragraphs = string.Join('\n', lines.Skip(1)).Split("\n\n")
            .Where(paragraph => Says(paragraph, values))
            .Select(paragraph =>
                string.Join('\n', paragraph.Split('\n').Where(line => Says(line, values)).Select(line => Line(line, values))));
        return (title, string.Join("\n\n", paragraphs).Trim('\n'));
    }

    private static bool Says(string line, IReadOnlyDictionary<string, string> values)
    {
        var names = Name().Matches(line);
        return names.Count == 0 || names.Any(name => values.GetValueOrDefault(name.Groups[1].Value, "").Length > 0);
    }

    private static string Line(string line, IReadOnlyDictionary<string, string> values) =>
        Name().Replace(line, name => values.GetValueOrDefault(name.Groups[1].Value, ""));

    [GeneratedRegex(@"\{([a-z-]+)\}")]
    private static partial Regex Name();
}
