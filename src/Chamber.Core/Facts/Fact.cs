using NodaTime;

namespace Chamber.Core.Facts;

/// <summary>
/// Something that was set up, done, seen, or found wrong. The set is closed: each fact says itself how it changes the home, so that
/// one that nobody handles does not compile. When it was true, who wrote it and when stands beside it (<see cref="FactEntry"/>).
/// </summary>
public abstract record Fact
{
    /// <summary>What it is about, for the history of each. The first is what it tells of and goes with; the others are mentioned.</summary>
    public abstract IReadOnlyList<FactSubject> About();

    /// <summary>What happened, as a line of a history; when, and by whom, stand beside it.</summary>
    /// <param name="names">How people see what it names.</param>
    public abstract string Words(ShownNames names);

    /// <summary>Changes the home, or refuses with <see cref="RefusedException"/> and changes nothing.</summary>
    /// <param name="home">The home before it, to be changed.</param>
    /// <param name="at">When it was true.</param>
    internal abstract void Apply(HomeFold home, Instant at);

    /// <summary>With when it was true.</summary>
    public DatedFact At(Instant at) => new(this, at);
}

/// <summary>A fact with when it was true, not written down yet.</summary>
/// <param name="Fact">What.</param>
/// <param name="At">When it was true.</param>
public readonly record struct DatedFact(Fact Fact, Instant At);

/// <summary>What a fact can be about.</summary>
public enum FactSubjectKind
{
    Spot,
    Probe,
    Lot,
    Batch,
    Crop,
    Home,
}

/// <summary>What a fact is about.</summary>
/// <param name="Kind">What sort of thing.</param>
/// <param name="Name">Its name; "home" for the home.</param>
public readonly record struct FactSubject(FactSubjectKind Kind, string Name)
{
    public static FactSubject Home { get; } = new(FactSubjectKind.Home, "home");

    public static FactSubject Of(Core.Spots.SpotId spot) => new(FactSubjectKind.Spot, spot.Text);

    public static FactSubject Of(Climate.ProbeId probe) => new(FactSubjectKind.Probe, probe.Text);

    public static FactSubject Of(Seeds.LotId lot) => new(FactSubjectKind.Lot, lot.Text);

    public static FactSubject Of(Core.Batches.BatchId batch) => new(FactSubjectKind.Batch, batch.Text);

    public static FactSubject Of(Crops.CropId crop) => new(FactSubjectKind.Crop, crop.Text);

    public override string ToString() => Name;
}
