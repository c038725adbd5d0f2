using Chamber.Core;
using Chamber.Service.Home.Writing;
using CsvHelper;

namespace Chamber.Service.Import;

/// <summary>
/// A notebook of past sowings and counts as CSV. Its first line names the columns: <c>batch</c>, <c>sown</c>, <c>crop</c> and
/// <c>seeds</c>, and where they are known <c>method</c>, <c>spot</c>, <c>lot</c>, <c>counted</c>, <c>up</c>, <c>note</c> and
/// <c>ended</c>, in any order. A line is a sowing, a count, or both; of a batch with several counts the further lines need only its name.
/// </summary>
internal static class NotebookFile
{
    private static readonly string[] Needed = ["batch", "sown", "crop", "seeds"];

    private static readonly string[] Names = [.. Needed, "method", "spot", "lot", "counted", "up", "note", "ended"];

    /// <exception cref="BadInputException">The file or its header cannot be used.</exception>
    public static IReadOnlyList<NotebookEntry> Read(string path)
    {
        try
        {
            using var text = new StreamReader(path);
            using var reader = CsvReader.Create(text, new CsvReaderOptions
            {
                HasHeader = true, TrimWhitespace = true, TrackLineNumbers = true, AllowLineBreaksInQuotes = false,
            });
            reader.ReadHeader();
            return Lines(reader, path, Columns(reader.Headers, path));
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{path} cannot be read: {FileFault.Of(problem)}", problem);
        }
    }

    private static Dictionary<string, int> Columns(IReadOnlyList<string> header, string path)
    {
        var columns = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        foreach (var (index, cell) in header.Index())
        {
            var name = cell.Trim().TrimStart('\uFEFF');
            if (name.Length > 0 && !Names.Contains(name, StringComparer.OrdinalIgnoreCase))
            {
                throw new BadInputException(
                    $"{path} line 1: \"{name}\" is no column of a notebook.{NearNames.Question(name, Names)} Its columns are {string.Join(',', Names)}.");
            }

            if (name.Length > 0 && !columns.TryAdd(name, index))
            {
                throw new BadInputException($"{path} line 1: there are two columns \"{name}\"; name the other one for what it holds.");
            }
        }

        return Needed.FirstOrDefault(name => !columns.ContainsKey(name)) is { } missing
            ? throw new BadInputException(
                $"{path} line 1: there is no column \"{missing}\". The first line names the columns: {string.Join(',', Names)}; "
                    + $"{string.Join(", ", Needed)} are needed.")
            : columns;
    }

    private static List<NotebookEntry> Lines(CsvReader reader, string path, Dictionary<string, int> columns)
    {
        var entries = new List<NotebookEntry>();
        while (reader.Read())
        {
            string? Cell(string name) => columns.TryGetValue(name, out var index) && index < reader.FieldCount
                && reader.GetString(index) is { Length: > 0 } text ? text : null;

            if (!Names.Any(name => Cell(name) is not null))
            {
                continue;
            }

            entries.Add(new(
                reader.LineNumber, Cell("batch"), Cell("sown"), Cell("crop"), Cell("seeds"), Cell("method"), Cell("spot"), Cell("lot"),
                Cell("counted"), Cell("up"), Cell("note"), Cell("ended")));
            if (Bounds.NotebookLines.WhyNot(entries.Count) is { } why)
            {
                throw new BadInputException($"{path} line {reader.LineNumber}: {why}");
            }
        }

        return entries.Count > 0 ? entries : throw new BadInputException($"{path} has no lines under its header.");
    }
}
