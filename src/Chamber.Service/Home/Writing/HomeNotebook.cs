using System.Globalization;
using Chamber.Core;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using NodaTime;

namespace Chamber.Service.Home.Writing;

/// <summary>
/// Makes facts of a notebook of past sowings and counts: all of it in one act, or nothing. What is written down already is passed over,
/// so doing it again adds nothing.
/// </summary>
internal sealed class HomeNotebook(HomeReader home, Instant now)
{
    private readonly List<RefusedNotebookLine> refused = [];
    private readonly List<DatedFact> added = [];
    private readonly Dictionary<BatchId, long> refusedSowings = [];
    private readonly List<(long Line, BatchId Batch)> sowings = [];
    private HashSet<DatedFact> known = [];
    private HomeState state = HomeState.Empty;
    private int alreadyThere;

    /// <param name="lines">The lines of the notebook, in order.</param>
    /// <param name="isDryRun">Whether to say what it comes to and write nothing.</param>
    public NotebookSummary Write(IReadOnlyList<NotebookEntry> lines, bool isDryRun)
    {
        var log = FactLog.Of(AtHand.Of(home.Store.FactsSinceAsync(0)));
        known = [.. log.Entries.Where(entry => !log.TakenBack.Contains(entry.Number)).Select(entry => entry.Fact.At(entry.At))];
        state = log.Home;
        var facts = lines.SelectMany(Facts).ToList();

        // Counts may stand in any order; an end comes after all of them.
        foreach (var (line, fact) in facts.OrderBy(one => one.Fact.Fact is BatchEnded))
        {
            Take(line, fact);
        }

        var written = isDryRun || refused.Count > 0 ? 0 : home.Writing(now).Write(added).Count;
        return new(Count<BatchSown>(), Count<BatchLooked>(), alreadyThere, written, isDryRun,
            [.. refused.OrderBy(one => one.Line)], [.. Warned()]);
    }

    // By the whole notebook: a lot may be counted, and a batch ended, further down.
    private IEnumerable<WarnedNotebookLine> Warned() =>
        from one in sowings
        let batch = state.Batch(one.Batch)
        where batch is not null
        from warning in HomeWarnings.OfSowing(home, batch, state.Batches)
        orderby one.Line
        select new WarnedNotebookLine(one.Line, warning);

    private int Count<T>() => added.Count(fact => fact.Fact is T);

    private List<(NotebookEntry Line, DatedFact Fact)> Facts(NotebookEntry line)
    {
        try
        {
            return [.. Read(line).Select(fact => (line, fact))];
        }
        catch (Exception problem) when (problem is BadInputException or FormatException or ArgumentException)
        {
            Refuse(line, problem.Message);
            return [];
        }
    }

    private IEnumerable<DatedFact> Read(NotebookEntry line)
    {
        var batch = new BatchId(line.Batch ?? throw new FormatException("the name of the batch is missing: give each sowing one, as T1."));
        if (line.Sown is not null || line.Crop is not null || line.Seeds is not null)
        {
            yield return Sowing(line, batch);
        }

        if ((line.Counted is null) != (line.Up is null))
        {
            throw new FormatException(line.Up is null
                ? $"counted {line.Counted} has no up: write how many were up then, 0 too." : $"up {line.Up} has no counted: write when.");
        }

        if (line.Up is { } up)
        {
            yield return new BatchLooked(batch, Number("up", up, null), Note(line.Note)).At(Day("counted", line.Counted!));
        }

        if (line.Ended is { } ended)
        {
            yield return new BatchEnded(batch).At(Day("ended", ended));
        }
    }

    private DatedFact Sowing(NotebookEntry line, BatchId batch)
    {
        if (line.Sown is null || line.Crop is null || line.Seeds is null)
        {
            throw new FormatException($"a sowing needs sown, crop and seeds: fill in "
                + $"{(line.Sown is null ? "sown" : line.Crop is null ? "crop" : "seeds")}, or leave all three empty for a further count.");
        }

        var crop = home.Catalog.Require(line.Crop);
        return new BatchSown(
            batch, crop.Id,
            line.Method is { } method ? Choice.Parse<SowingMethod>(method)
                : crop.Light == LightNeed.NeedsLight ? SowingMethod.OpenMix : SowingMethod.CoveredMix,
            Number("seeds", line.Seeds, Bounds.Seeds),
            line.Lot is { } lot ? new(lot) : null,
            line.Spot is { } spot ? home.RequireSpot(spot).Id : null).At(Day("sown", line.Sown));
    }

    private void Take(NotebookEntry line, DatedFact fact)
    {
        if (known.Contains(fact))
        {
            alreadyThere++;
            return;
        }

        var batch = BatchOf(fact.Fact);
        if (refusedSowings.TryGetValue(batch, out var sowing) && state.Batch(batch) is null)
        {
            Refuse(line, $"line {sowing}, which sows {batch}, cannot be used.");
            return;
        }

        try
        {
            state = state.Apply(fact);
            known.Add(fact);
            added.Add(fact);
            if (fact.Fact is BatchSown)
            {
                sowings.Add((line.Line, batch));
            }
        }
        catch (RefusedException problem)
        {
            Refuse(line, problem.Text.Tell(at => TimeText.Show(at, home.Zone, now)));
        }
    }

    private void Refuse(NotebookEntry line, string why)
    {
        if (line.Sown is not null && line.Batch is { } name && Identifier.IsValid(name))
        {
            refusedSowings.TryAdd(new(name), line.Line);
        }

        // One refusal a line: what else is wrong with it mostly follows from that.
        if (refused.All(one => one.Line != line.Line))
        {
            refused.Add(new(line.Line, why));
        }
    }

    private static BatchId BatchOf(Fact fact) => fact switch
    {
        BatchSown sown => sown.Batch,
        BatchLooked looked => looked.Batch,
        BatchEnded ended => ended.Batch,
        _ => throw new InvalidOperationException("A notebook holds sowings, counts and ends."),
    };

    private static string? Note(string? text) => text is null ? null : Bounds.Note.Require(text);

    private static int Number(string column, string text, Bound? bound) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            ? (int)(bound?.Require(number) ?? number)
            : throw new FormatException($"{column} \"{text}\" is not a whole number of 0 or more.");

    // The same line is the same moment whenever it is read: so no "yesterday", and a day is its noon.
    private Instant Day(string column, string text)
    {
        if (text.Length < "2027-03-01".Length || text[4] != '-')
        {
            throw new FormatException($"{column} \"{text}\" is not a day: write 2027-03-01, or \"2027-03-01 07:40\".");
        }

        var isDay = text.Length == "2027-03-01".Length;
        var at = TimeText.Parse(isDay ? text + " 12:00" : text, home.Zone, now);
        if (at > now)
        {
            throw new FormatException(isDay && at - now < Duration.FromHours(12)
                ? $"{column} {text} means noon, which is still to come: write the time too, as \"{text} 07:40\"."
                : $"{column} {text} is in the future: a notebook holds what has happened.");
        }

        return at;
    }
}
