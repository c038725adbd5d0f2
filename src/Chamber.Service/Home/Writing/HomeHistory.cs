using System.Text.Json.Nodes;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Lots;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using Chamber.Core.Facts.Whole;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Storage.Facts;
using NodaTime;

namespace Chamber.Service.Home.Writing;

/// <summary>
/// What was written down, by whom and when, and putting it right: the same for the command line, the page and the API. Nothing is
/// ever lost by it; what is corrected or taken back stays in the record.
/// </summary>
/// <remarks>Every method throws <see cref="BadInputException"/> or <see cref="Core.RefusedException"/>, and then nothing was
/// written.</remarks>
internal sealed class HomeHistory(HomeReader home, Instant now)
{
    private FactLog Log() => FactLog.Of(AtHand.Of(home.Store.FactsSinceAsync(0)));

    /// <summary>Every entry, or those of one thing under whatever name it had, in order of number.</summary>
    /// <exception cref="BadInputException">Nothing was ever written down under this name.</exception>
    public IReadOnlyList<HistoryLine> Of(FactSubject? subject)
    {
        var log = Log();
        if (subject is not { } about)
        {
            return [.. log.Entries.Select(entry => HistoryLine.Of(log, entry))];
        }

        var lines = log.About(about);
        return lines.Count > 0
            ? [.. lines.Select(entry => HistoryLine.Of(log, entry))]
            : throw BadInputException.Unknown(
                $"Nothing is written down of a {Choice.Word(about.Kind)} \"{about.Name}\".", "Everything: chamber history");
    }

    /// <summary>One entry with its body, for whoever wants to correct it.</summary>
    public HistoryEntry Entry(long number)
    {
        var log = Log();
        var entry = log.Find(number) ?? throw BadInputException.Unknown($"There is no entry {number}.", "All of them: chamber history");
        var right = log.RightOf(entry).Fact;
        return new(HistoryLine.Of(log, entry), JsonNode.Parse(FactJson.Write(right))!.AsObject(), right.About());
    }

    /// <summary>Takes back the last thing that whoever writes has done.</summary>
    public IReadOnlyList<HistoryLine> Undo() =>
        Lines(Amend(log => [.. log.UndoOf(by => by.Who == home.Author.Who && (by.Who.Length > 0 || by.Way == home.Author.Way))
            .Select(fact => fact.At(now))]));

    /// <summary>Takes back one entry.</summary>
    public HistoryLine Remove(long number) => Remove([number])[0];

    /// <summary>Takes entries back in one act, the latest first.</summary>
    public IReadOnlyList<HistoryLine> Remove(IReadOnlyList<long> numbers) => Lines(Amend(log =>
        [.. numbers.OrderDescending().Select(number => new Withdrawn(log.RequireStanding(number).Number).At(now))]));

    /// <summary>Takes back all that was written down of a thing: it never was.</summary>
    public IReadOnlyList<HistoryLine> RemoveAll(FactSubject subject)
    {
        var count = Of(subject).Count(line => line.Standing == EntryStanding.Counts);
        return count > 0
            ? Lines(Amend(log => [.. log.RemovalOf(subject).Select(fact => fact.At(now))]))
            : throw BadInputException.Contradicts($"All that was written down of {subject} was taken back already.");
    }

    /// <summary>Says what an entry should have been.</summary>
    /// <param name="number">Which entry.</param>
    /// <param name="changes">What is other, by the names in its body; null where something is not known after all.</param>
    /// <param name="at">When it was true, as a person writes it; null for as it was.</param>
    public HistoryLine Correct(long number, IReadOnlyDictionary<string, JsonNode?> changes, string? at)
    {
        var when = at is null ? (Instant?)null : home.PastOf(at, now);
        return changes.Count == 0 && when is null
            ? throw new BadInputException("Nothing is other: name what is, such as up=7.")
            {
                Field = "changes",
                Hint = $"See what it holds: chamber history {number}",
            }
            : Lines(Amend(log => [Correction(log, number, changes, when)]))[0];
    }

    /// <summary>Gives a thing another name; its history stays with it.</summary>
    public FactSubject Rename(FactSubject subject, string to)
    {
        Fact fact = subject.Kind switch
        {
            FactSubjectKind.Spot => new SpotRenamed(new(subject.Name), BadInputException.In("to", () => new SpotId(to))),
            FactSubjectKind.Probe => new ProbeRenamed(new(subject.Name), BadInputException.In("to", () => new ProbeId(to))),
            FactSubjectKind.Lot => new LotRenamed(new(subject.Name), BadInputException.In("to", () => new LotId(to))),
            FactSubjectKind.Batch => new BatchRenamed(new(subject.Name), BadInputException.In("to", () => new BatchId(to))),
            _ => throw new BadInputException($"A {Choice.Word(subject.Kind)} keeps its name."),
        };
        home.Writing(now).Write(fact.At(now));
        return subject with { Name = to };
    }

    /// <summary>Lets people see a spot, probe or batch by a name of any letters.</summary>
    /// <param name="subject">Which.</param>
    /// <param name="name">How it is shown; null or blank for its own name.</param>
    public string ShowAs(FactSubject subject, string? name)
    {
        var shown = string.IsNullOrWhiteSpace(name) ? null : name.Trim();
        home.Writing(now).Write(new ShownAs(subject, shown).At(now));
        return shown ?? subject.Name;
    }

    /// <summary>Says that readings of a probe are not to be used; they are kept.</summary>
    /// <returns>The entry, by which that is taken back.</returns>
    public HistoryLine SetAside(ProbeId probe, string from, string to, string? why)
    {
        var until = home.TimeOf(to, now, "to");
        var entries = home.Writing(now).Write(new ReadingsSetAside(probe, until, why).At(home.PastOf(from, now, "from")));
        return Lines(entries)[0];
    }

    private static DatedFact Correction(FactLog log, long number, IReadOnlyDictionary<string, JsonNode?> changes, Instant? at)
    {
        var right = log.RightOf(log.RequireStanding(number));
        var (kind, body) = (FactKinds.NameOf(right.Fact), JsonNode.Parse(FactJson.Write(right.Fact))!.AsObject());
        foreach (var (name, value) in changes)
        {
            body.Remove(name);
            if (value is not null)
            {
                body[name] = value.DeepClone();
            }
        }

        var fact = BadInputException.In("changes", () => FactJson.Read(kind, body.ToJsonString()));
        return log.CorrectionOf(number, fact.At(at ?? right.At));
    }

    private IReadOnlyList<FactEntry> Amend(Func<FactLog, IReadOnlyList<DatedFact>> amend) => home.Writing(now).Amend(amend);

    // What the amendments speak of, as it stands after them.
    private IReadOnlyList<HistoryLine> Lines(IReadOnlyList<FactEntry> written)
    {
        var log = Log();
        return [.. written.Select(entry => entry.Fact switch
        {
            Withdrawn gone => HistoryLine.Of(log, log.Find(gone.Entry)!),
            Corrected wrong => HistoryLine.Of(log, log.Find(wrong.Entry)!),
            _ => HistoryLine.Of(log, entry),
        })];
    }
}
