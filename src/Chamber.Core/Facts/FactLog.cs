namespace Chamber.Core.Facts;

/// <summary>All that is written down, with the home that it makes.</summary>
public sealed class FactLog
{
    private FactLog(IReadOnlyList<FactEntry> entries)
    {
        Entries = entries;
        (TakenBack, Corrections) = Amendments.Resolve(entries);
        (Home, LeftOut) = HomeState.Of(Amendments.Standing(entries));
    }

    /// <summary>Every entry, in order of number.</summary>
    public IReadOnlyList<FactEntry> Entries { get; }

    /// <summary>The number of the newest entry; 0 when there is none.</summary>
    public long Last => Entries is [.., var last] ? last.Number : 0;

    /// <summary>The numbers of those that are withdrawn.</summary>
    public IReadOnlySet<long> TakenBack { get; }

    /// <summary>For each that is corrected the entry that says what is right.</summary>
    public IReadOnlyDictionary<long, FactEntry> Corrections { get; }

    /// <summary>The home that they make.</summary>
    public HomeState Home { get; }

    /// <summary>Those that count for nothing, since they cannot be true.</summary>
    public IReadOnlyList<LeftOutFact> LeftOut { get; }

    public static FactLog Of(IReadOnlyList<FactEntry> entries) => new(entries);

    /// <summary>An entry by its number; null when there is none.</summary>
    public FactEntry? Find(long number) => number > 0 && number <= Entries.Count && Entries[(int)number - 1].Number == number
        ? Entries[(int)number - 1]
        : Entries.FirstOrDefault(entry => entry.Number == number);

    /// <summary>What is right of an entry: itself, or what corrected it.</summary>
    public DatedFact RightOf(FactEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        var right = Corrections.GetValueOrDefault(entry.Number) ?? entry;
        return new(right.Fact is Corrected { Right: var fact } ? fact : right.Fact, right.At);
    }

    /// <summary>What was written down of something, under whatever name it had, in order of number; amendments are not among it.</summary>
    public IReadOnlyList<FactEntry> About(FactSubject subject)
    {
        var names = Home.NamesOf(subject);
        return [.. Entries.Where(entry => entry.Fact is not (Withdrawn or Corrected) && RightOf(entry).Fact.About().Any(names.Contains))];
    }

    /// <summary>What takes back everything that was written down of something, the latest first. What was written down of others and only
    /// mentions it stays, and is refused by the fold where it cannot be true without it.</summary>
    public IReadOnlyList<Fact> RemovalOf(FactSubject subject)
    {
        var names = Home.NamesOf(subject);
        return [.. About(subject).Where(entry => !TakenBack.Contains(entry.Number) && names.Contains(RightOf(entry).Fact.About()[0]))
            .Reverse().Select(entry => new Withdrawn(entry.Number))];
    }

    /// <summary>What takes back the last thing that somebody did and that still counts.</summary>
    /// <param name="isMine">Whether somebody wrote it.</param>
    /// <exception cref="FactRefusedException">There is nothing that they did.</exception>
    public IReadOnlyList<Fact> UndoOf(Predicate<Author> isMine)
    {
        ArgumentNullException.ThrowIfNull(isMine);
        for (var i = Entries.Count - 1; i >= 0; i--)
        {
            var entry = Entries[i];
            if (isMine(entry.By) && entry.Fact is not Withdrawn { IsUndo: true } && !TakenBack.Contains(entry.Number))
            {
                return [.. Entries.Where(one => one.Act == entry.Act && !TakenBack.Contains(one.Number)).Reverse()
                    .Select(one => new Withdrawn(one.Number, IsUndo: true))];
            }
        }

        throw new FactRefusedException(new($"There is nothing to take back."));
    }

    /// <summary>What says that an entry should have been something else.</summary>
    /// <exception cref="FactRefusedException">There is no such entry, it is an amendment itself, or it does not count.</exception>
    public DatedFact CorrectionOf(long number, DatedFact right)
    {
        var entry = RequireStanding(number);
        FactRefusedException.When(
            right.Fact.GetType() != RightOf(entry).Fact.GetType(), $"Entry {number} is of another kind; withdraw it and write down what is right.");
        return new Corrected(number, right.Fact).At(right.At);
    }

    /// <summary>An entry that can be corrected or withdrawn.</summary>
    /// <exception cref="FactRefusedException">There is none of this number, or it was withdrawn already.</exception>
    public FactEntry RequireStanding(long number)
    {
        var entry = Find(number);
        FactRefusedException.When(entry is null, $"There is no entry {number}; see which there are: chamber history.");
        FactRefusedException.When(TakenBack.Contains(number), $"Entry {number} was taken back already.");
        return entry!;
    }

    /// <summary>With further entries.</summary>
    /// <exception cref="FactRefusedException">One of them cannot be true, or something later rests on what they take back.</exception>
    public FactLog With(IReadOnlyList<FactEntry> added)
    {
        ArgumentNullException.ThrowIfNull(added);
        var next = new FactLog([.. Entries, .. added]);
        var known = LeftOut.Select(fact => fact.Number).ToHashSet();
        if (next.LeftOut.FirstOrDefault(fact => !known.Contains(fact.Number)) is not { } wrong)
        {
            return next;
        }

        var isNew = added.Any(entry => entry.Number == wrong.Number || entry.Fact is Corrected { Entry: var corrected }
            && corrected == wrong.Number);
        throw new FactRefusedException(isNew ? wrong.Why
            : new($"Entry {wrong.Number} rests on that ({RightOf(Find(wrong.Number)!).Fact.Words(ShownNames.None)}): {wrong.Why}"));
    }
}
