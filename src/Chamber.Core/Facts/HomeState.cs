using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Facts;

/// <summary>Readings of a probe that are not to be used: kept, and passed over by every answer.</summary>
/// <param name="Probe">Which probe.</param>
/// <param name="When">Which readings: from its start until its end, the end left out.</param>
/// <param name="Why">Why, or null.</param>
public sealed record SetAside(ProbeId Probe, Interval When, string? Why = null);

/// <summary>A time in which somebody works on a spot, or on the whole home where there is no spot.</summary>
/// <param name="Spot">Which spot, or null.</param>
/// <param name="When">From when to when; always with an end.</param>
public sealed record Work(SpotId? Spot, Interval When);

/// <summary>What somebody did about an alert.</summary>
/// <param name="Condition">Which condition, by its name.</param>
/// <param name="About">What the alert is about.</param>
/// <param name="At">When: the alert was open then.</param>
/// <param name="SeenBy">Who has seen it; null when it was muted.</param>
/// <param name="MutedUntil">No notices of it until then; null lifts that.</param>
public sealed record AlertMark(string Condition, FactSubject About, Instant At, string? SeenBy, Instant? MutedUntil);

/// <summary>A fact that is written down and cannot be true beside those before it: it counts for nothing.</summary>
/// <param name="Number">Its number.</param>
/// <param name="Why">Why, with what to do.</param>
public sealed record LeftOutFact(long Number, DatedText Why);

/// <summary>
/// A home as the facts have it: a pure fold. Every rule of what may be written down is in what the facts do to it
/// (<see cref="Fact"/>) and nowhere else. It never changes; a further fact makes another one.
/// </summary>
public sealed class HomeState
{
    private readonly HomeFold fold;

    private HomeState(HomeFold fold) => this.fold = fold;

    /// <summary>Nothing is written down.</summary>
    public static HomeState Empty { get; } = new(new());

    /// <summary>Every spot, by name.</summary>
    public IReadOnlyList<Spot> Spots => [.. fold.Spots.Values.OrderBy(spot => spot.Id.Text, StringComparer.Ordinal)];

    /// <summary>Every probe that was set up, by name.</summary>
    public IReadOnlyList<ProbeEntry> Probes => [.. fold.Probes.Values.OrderBy(entry => entry.Probe.Id.Text, StringComparer.Ordinal)];

    /// <summary>Every stay of a probe on a spot, in order of time.</summary>
    public IReadOnlyList<Station> Stations => [.. All(fold.Stations, one => one.When.Start, one => one.Probe.Text)];

    /// <summary>Every calibration, in order of time.</summary>
    public IReadOnlyList<Calibration> Calibrations => [.. All(fold.Calibrations, one => one.From, one => one.Probe.Text)];

    /// <summary>Readings that are not to be used, in order of time.</summary>
    public IReadOnlyList<SetAside> SetAside => [.. All(fold.SetAside, one => one.When.Start, one => one.Probe.Text)];

    /// <summary>Every lot, by name.</summary>
    public IReadOnlyList<Lot> Lots => [.. fold.Lots.Values.OrderBy(lot => lot.Id.Text, StringComparer.Ordinal)];

    /// <summary>Every test, in order of time.</summary>
    public IReadOnlyList<LotTest> Tests => [.. All(fold.Tests, one => one.StartedAt, one => one.Lot.Text)];

    /// <summary>Every batch, in order of sowing.</summary>
    public IReadOnlyList<Batch> Batches =>
        [.. fold.Batches.Values.OrderBy(batch => batch.SownAt).ThenBy(batch => batch.Id.Text, StringComparer.Ordinal)];

    /// <summary>Crops of one's own, each as JSON, by name.</summary>
    public IReadOnlyList<(CropId Crop, string Json)> Crops =>
        [.. fold.Crops.OrderBy(pair => pair.Key.Text, StringComparer.Ordinal).Select(pair => (pair.Key, pair.Value))];

    /// <summary>What was chosen for the home, by name.</summary>
    public IReadOnlyDictionary<string, string> Settings => fold.Settings;

    /// <summary>Times in which somebody works on a spot or the home, in order of their start.</summary>
    public IReadOnlyList<Work> Work => [.. fold.Work.OrderBy(work => work.When.Start)];

    /// <summary>Notes about batches and spots, in order of time.</summary>
    public IReadOnlyList<Note> Notes =>
        [.. fold.Notes.OrderBy(note => note.At).ThenBy(note => note.About.Kind.ToString(), StringComparer.Ordinal)
            .ThenBy(note => note.About.Name, StringComparer.Ordinal)];

    /// <summary>Limits of alerts that somebody has chosen for a batch or a spot.</summary>
    public IReadOnlyList<OwnLimits> Limits => [.. fold.Limits.Values
        .OrderBy(own => own.About.Kind.ToString(), StringComparer.Ordinal).ThenBy(own => own.About.Name, StringComparer.Ordinal)];

    /// <summary>What people did about alerts, in the order in which they wrote it down.</summary>
    public IReadOnlyList<AlertMark> AlertMarks => fold.AlertMarks;

    /// <summary>A batch; null when there is none of this name.</summary>
    public Batch? Batch(BatchId id) => fold.Batches.GetValueOrDefault(id);

    /// <summary>A lot; null when there is none of this name.</summary>
    public Lot? Lot(LotId id) => fold.Lots.GetValueOrDefault(id);

    /// <summary>A spot; null when there is none of this name.</summary>
    public Spot? Spot(SpotId id) => fold.Spots.GetValueOrDefault(id);

    /// <summary>A probe; null when none of this name was set up.</summary>
    public ProbeEntry? Probe(ProbeId id) => fold.Probes.GetValueOrDefault(id);

    /// <summary>Former names with the names that came after them, in the order in which they were given.</summary>
    public IReadOnlyList<(FactSubject From, FactSubject To)> Renamed => fold.Renamed;

    /// <summary>A name with all that came before it, the present one first.</summary>
    public IReadOnlyList<FactSubject> NamesOf(FactSubject subject)
    {
        List<FactSubject> names = [subject];
        foreach (var (from, to) in Enumerable.Reverse(fold.Renamed))
        {
            if (names.Contains(to) && !names.Contains(from))
            {
                names.Add(from);
            }
        }

        return names;
    }

    /// <summary>What something that has a name here is called in another state of the same home, of an earlier or a later time.</summary>
    public FactSubject NameIn(HomeState other, FactSubject name)
    {
        ArgumentNullException.ThrowIfNull(other);
        var same = fold.Renamed.Zip(other.fold.Renamed).TakeWhile(pair => pair.First == pair.Second).Count();
        foreach (var (from, to) in fold.Renamed.Skip(same).Reverse())
        {
            name = name == to ? from : name;
        }

        foreach (var (from, to) in other.fold.Renamed.Skip(same))
        {
            name = name == from ? to : name;
        }

        return name;
    }

    /// <summary>A home as a store kept it. What people did about alerts, and former names, are not among its parts.</summary>
    public static HomeState Of(HomeParts parts)
    {
        ArgumentNullException.ThrowIfNull(parts);
        return new(HomeFold.Of(parts));
    }

    /// <summary>The same part by part.</summary>
    public HomeParts ToParts() => new()
    {
        Spots = Spots,
        Probes = Probes,
        Stations = Stations,
        Calibrations = Calibrations,
        SetAside = SetAside,
        Lots = Lots,
        Tests = Tests,
        Batches = Batches,
        Crops = Crops,
        Settings = Settings,
        Work = Work,
        Notes = Notes,
        Limits = Limits,
    };

    /// <summary>With one more fact.</summary>
    /// <exception cref="RefusedException">It cannot be true beside what is known.</exception>
    public HomeState Apply(DatedFact fact) => Apply([fact]);

    /// <summary>With further facts, each judged beside those before it.</summary>
    /// <exception cref="RefusedException">One of them cannot be true beside what is known.</exception>
    public HomeState Apply(IEnumerable<DatedFact> facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        var next = fold.Copy();
        foreach (var fact in facts)
        {
            fact.Fact.Apply(next, fact.At);
        }

        return new(next);
    }

    /// <summary>The home that facts make. One that cannot be true beside those before it counts for nothing, and is reported.</summary>
    public static (HomeState Home, IReadOnlyList<LeftOutFact> LeftOut) Of(IEnumerable<StandingFact> facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        var (home, leftOut) = (new HomeFold(), new List<LeftOutFact>());
        foreach (var fact in facts)
        {
            try
            {
                fact.Fact.Apply(home, fact.At);
            }
            catch (RefusedException refused)
            {
                leftOut.Add(new(fact.Number, refused.Text));
            }
        }

        return (new(home), leftOut);
    }

    private static IOrderedEnumerable<T> All<TKey, T>(Dictionary<TKey, IReadOnlyList<T>> table, Func<T, Instant> timeOf, Func<T,
        string> nameOf)
        where TKey : notnull => table.Values.SelectMany(some => some).OrderBy(timeOf).ThenBy(nameOf, StringComparer.Ordinal);
}
