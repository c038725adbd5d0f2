using System.CommandLine;

namespace Chamber.Service.Commands.Terminal;

/// <summary>
/// What a bare word names in this home, so that a verb is understood with the name alone (<c>forecast basil boiler-top</c>), and what it
/// does not take is answered by the line that takes it.
/// </summary>
/// <param name="invocation">Whose home.</param>
internal sealed class NamedHere(Invocation invocation)
{
    private static readonly Thing[] Things =
    [
        new("batch", "BATCH", "chamber batches {0}", (home, name) => home.Home.Ledger.Batches.Any(batch => Is(batch.Id.Text, name))),
        new("lot", "LOT", "chamber lot show {0}", (home, name) => home.Home.Ledger.Lots.Any(lot => Is(lot.Id.Text, name))),
        new("spot", "SPOT", "chamber spots --spot {0}", (home, name) => home.Home.Spots().Any(spot => Is(spot.Id.Text, name))),
        new("probe", "PROBE", "chamber probes", (home, name) => home.Home.Ledger.Probes.Any(probe => Is(probe.Probe.Id.Text, name))),
    ];

    private static readonly Thing Crop = new("crop", "CROP", "chamber spots --crop {0}",
        (home, name) => home.Catalog.Find(name) is not null);

    // Whatever else is wrong is not that a word names another thing.
    private static readonly string[] NotFound = ["There is no ", " takes no ", " has no ", " is no ", " not in the crop catalog",
        " cannot be read"];

    /// <summary>The same command line with the option before each bare word that says what the word names; null where a word names
    /// nothing that the verb has an option for.</summary>
    public string[]? WithOptions(ParseResult parse, string[] arguments)
    {
        var free = parse.CommandResult.Command.Options.Where(option => parse.GetResult(option) is null).ToList();
        List<string> line = [.. arguments];
        foreach (var word in parse.UnmatchedTokens)
        {
            var option = word.StartsWith('-') ? null
                : Of(word).Select(thing => free.Find(one => one.HelpName == thing.HelpName)).FirstOrDefault(one => one is not null);
            if (option is null)
            {
                return null;
            }

            if (option.Arity.MaximumNumberOfValues == 1)
            {
                free.Remove(option);
            }

            line.RemoveAt(line.LastIndexOf(word));
            line.AddRange([option.Name, word]);
        }

        return [.. line];
    }

    /// <summary>What a word names and the line that takes it: <c>T3 is a batch: chamber batches T3</c>; null where it names nothing here,
    /// or what it was taken for.</summary>
    /// <param name="word">As it was typed.</param>
    /// <param name="refusal">What was said about it.</param>
    public string? Hint(string word, string refusal)
    {
        var things = NotFound.Any(words => refusal.Contains(words, StringComparison.Ordinal)) ? Of(word).ToList() : [];
        return things.Count == 0 || things.Exists(thing => refusal.Contains($" {thing.Name} ", StringComparison.Ordinal)
            && refusal.Contains("There is no", StringComparison.Ordinal)) ? null
            : $"{word} is a {things[0].Name}: {string.Format(System.Globalization.CultureInfo.InvariantCulture, things[0].Line, word)}";
    }

    /// <summary>What of a home's own things a word names: batch, lot, spot or probe.</summary>
    public IReadOnlyList<string> Recorded(string word) => [.. Of(word).Where(thing => thing != Crop).Select(thing => thing.Name)];

    // No file is made for a question.
    private IEnumerable<Thing> Of(string word) =>
        [.. (File.Exists(invocation.Data.Database) ? Things : []).Append(Crop).Where(thing => thing.IsNamed(invocation, word))];

    private static bool Is(string one, string other) => string.Equals(one, other, StringComparison.OrdinalIgnoreCase);

    /// <param name="Name">What it is.</param>
    /// <param name="HelpName">What options call it.</param>
    /// <param name="Line">What shows one, with its name for {0}.</param>
    /// <param name="IsNamed">Whether this home has one of a name.</param>
    private sealed record Thing(string Name, string HelpName, string Line, Func<Invocation, string, bool> IsNamed);
}
