using NodaTime;

namespace Chamber.Core.Facts;

/// <summary>An earlier entry is wrong: it counts as if it had never been written down. Of a withdrawal, the entry counts again.</summary>
/// <param name="Entry">The number of the entry.</param>
/// <param name="IsUndo">Whether it undid the last thing done, so that the next undo goes further back.</param>
public sealed record Withdrawn(long Entry, bool IsUndo = false) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [];

    public override string Words(ShownNames names) => $"entry {Entry} taken back";

    internal override void Apply(HomeFold home, Instant at) =>
        throw new InvalidOperationException("An amendment changes the record, not the home.");
}

/// <summary>An earlier entry should have been this: it counts in its place.</summary>
/// <param name="Entry">The number of the entry.</param>
/// <param name="Right">What is right.</param>
public sealed record Corrected(long Entry, Fact Right) : Fact
{
    public override IReadOnlyList<FactSubject> About() => Right.About();

    public override string Words(ShownNames names) => $"entry {Entry} corrected: {Right.Words(names)}";

    internal override void Apply(HomeFold home, Instant at) =>
        throw new InvalidOperationException("An amendment changes the record, not the home.");
}

/// <summary>A fact that counts, with the entry that first recorded it and the one that it stands in now.</summary>
/// <param name="Number">The entry that first recorded it: it keeps its place among the others.</param>
/// <param name="Fact">What is right.</param>
/// <param name="At">When it was true.</param>
public readonly record struct StandingFact(long Number, Fact Fact, Instant At);

/// <summary>What is left of entries once every correction and withdrawal is taken at its word.</summary>
public static class Amendments
{
    /// <summary>The facts that count, each in the place of the entry that first recorded it.</summary>
    /// <param name="entries">All entries, in order of number.</param>
    public static IReadOnlyList<StandingFact> Standing(IReadOnlyList<FactEntry> entries)
    {
        ArgumentNullException.ThrowIfNull(entries);
        var (withdrawn, corrected) = Resolve(entries);
        var standing = new List<StandingFact>(entries.Count);
        foreach (var entry in entries)
        {
            if (entry.Fact is not (Withdrawn or Corrected) && !withdrawn.Contains(entry.Number))
            {
                var right = corrected.GetValueOrDefault(entry.Number) ?? entry;
                standing.Add(new(entry.Number, right.Fact is Corrected { Right: var fact } ? fact : right.Fact, right.At));
            }
        }

        return standing;
    }

    /// <summary>The numbers of the entries that are withdrawn, and for each that is corrected the entry that says what is right.</summary>
    public static (IReadOnlySet<long> Withdrawn, IReadOnlyDictionary<long, FactEntry> Corrected) Resolve(IReadOnlyList<FactEntry> entries)
    {
        ArgumentNullException.ThrowIfNull(entries);
        var (withdrawn, corrected) = (new HashSet<long>(), new Dictionary<long, FactEntry>());

        // The latest word first: what it withdraws says nothing any more.
        for (var i = entries.Count - 1; i >= 0; i--)
        {
            var entry = entries[i];
            if (entry.Fact is not (Withdrawn or Corrected) || withdrawn.Contains(entry.Number))
            {
                continue;
            }

            if (entry.Fact is Withdrawn { Entry: var gone })
            {
                withdrawn.Add(gone);
            }
            else if (entry.Fact is Corrected { Entry: var wrong })
            {
                corrected.TryAdd(wrong, entry);
            }
        }

        return (withdrawn, corrected);
    }
}
