using System.Text.Json.Nodes;
using System.Text.Json.Serialization;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Service.Home.Writing;

/// <summary>Whether an entry still counts.</summary>
internal enum EntryStanding
{
    /// <summary>It counts as it was written.</summary>
    Counts,

    /// <summary>It counts as a later entry puts it.</summary>
    Corrected,

    /// <summary>It was taken back.</summary>
    TakenBack,

    /// <summary>It cannot be true beside those before it, and counts for nothing.</summary>
    LeftOut,
}

/// <summary>A line of a history.</summary>
/// <param name="Number">The number of the entry.</param>
/// <param name="Kind">Its kind: <c>batch-looked</c>.</param>
/// <param name="What">What happened, as it stands now.</param>
/// <param name="At">When it was true.</param>
/// <param name="WrittenAt">When it was written down.</param>
/// <param name="By">Who wrote it down; empty where nobody said.</param>
/// <param name="Way">By which way.</param>
/// <param name="Standing">Whether it still counts.</param>
internal sealed record HistoryLine(
    long Number, string Kind, string What, Instant At, Instant WrittenAt, string By, WriteWay Way, EntryStanding Standing)
{
    public static HistoryLine Of(FactLog log, FactEntry entry)
    {
        var right = log.RightOf(entry);
        var standing = log.TakenBack.Contains(entry.Number) ? EntryStanding.TakenBack
            : log.LeftOut.Any(fact => fact.Number == entry.Number) ? EntryStanding.LeftOut
            : log.Corrections.ContainsKey(entry.Number) ? EntryStanding.Corrected : EntryStanding.Counts;
        return new(
            entry.Number, FactKinds.NameOf(entry.Fact), right.Fact.Words(ShownNames.Of(log.Home.Settings)), right.At, entry.WrittenAt,
            entry.By.Who, entry.By.Way, standing);
    }
}

/// <summary>An entry with all that it holds.</summary>
/// <param name="Line">Its line.</param>
/// <param name="Body">What it holds, by name: what a correction names.</param>
/// <param name="About">What it is about.</param>
internal sealed record HistoryEntry(HistoryLine Line, JsonObject Body, [property: JsonIgnore] IReadOnlyList<FactSubject> About);
