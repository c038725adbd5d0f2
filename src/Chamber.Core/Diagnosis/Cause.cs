using Chamber.Core.Batches;

namespace Chamber.Core.Diagnosis;

/// <summary>What is, or was, the matter with a batch, with the evidence for it. A closed set: each case is below.</summary>
public abstract record Cause
{
    private protected Cause(CauseKind kind, Blame blame) => (Kind, Blame) = (kind, blame);

    /// <summary>Its name.</summary>
    public CauseKind Kind { get; }

    /// <summary>Whose doing it is.</summary>
    public Blame Blame { get; }
}

/// <summary>Every seed is up.</summary>
public sealed record AllUp() : Cause(CauseKind.AllUp, Blame.Nobody);

/// <summary>Nobody has looked for so long that more may be up.</summary>
/// <param name="Days">Days since the last look, or since the sowing without one.</param>
/// <param name="Ever">Whether anybody ever looked.</param>
public sealed record NotLooked(double Days, bool Ever) : Cause(CauseKind.NotLooked, Blame.StillOpen);

/// <summary>The spot was too hot.</summary>
/// <param name="HoursAbove">Measured hours above the crop's hot limit; 0 for a batch that was sown just now.</param>
/// <param name="ShareLeft">The share of sound seed that its temperatures leave, 0 to 1.</param>
/// <param name="Still">Whether it still stands so.</param>
public sealed record TooHot(double HoursAbove, double ShareLeft, bool Still) : Cause(CauseKind.TooHot, Blame.Spot);

/// <summary>The spot went from too cold to too hot.</summary>
/// <param name="HoursBelow">Measured hours below the crop's cool limit.</param>
/// <param name="HoursAbove">Measured hours above its hot limit.</param>
/// <param name="ShareLeft">The share of sound seed that its temperatures leave, 0 to 1.</param>
/// <param name="Still">Whether it still stands so.</param>
public sealed record Unsteady(double HoursBelow, double HoursAbove, double ShareLeft, bool Still) : Cause(CauseKind.Unsteady, Blame.Spot);

/// <summary>The spot was too cold.</summary>
/// <param name="HoursBelow">Measured hours below the crop's cool limit; 0 for a batch that was sown just now.</param>
/// <param name="MeasuredHours">Measured hours in all.</param>
/// <param name="Still">Whether it still stands so.</param>
/// <param name="Never">Whether it would not come up there in ten years.</param>
public sealed record TooCold(double HoursBelow, double MeasuredHours, bool Still, bool Never) : Cause(CauseKind.TooCold, Blame.Spot);

/// <summary>It went mouldy.</summary>
public sealed record Mouldy() : Cause(CauseKind.Mould, Blame.Water);

/// <summary>It stood in water.</summary>
public sealed record TooWet() : Cause(CauseKind.TooWet, Blame.Water);

/// <summary>It dried out.</summary>
public sealed record DriedOut() : Cause(CauseKind.DriedOut, Blame.Water);

/// <summary>It wants light to come up and stood in the dark.</summary>
public sealed record WrongLight() : Cause(CauseKind.WrongLight, Blame.Grower);

/// <summary>It wants a moist chill first and has not had it.</summary>
/// <param name="Days">Days that it has had.</param>
/// <param name="Wanted">Days that it wants.</param>
/// <param name="Share">The share of sound seed that can come up as it is, 0 to 1.</param>
public sealed record NotChilled(double Days, int Wanted, double Share) : Cause(CauseKind.NotChilled, Blame.Grower);

/// <summary>Its lot was known to be weak.</summary>
/// <param name="Expected">The share that was expected of it, 0 to 1.</param>
public sealed record WeakLot(double Expected) : Cause(CauseKind.WeakLot, Blame.Seed);

/// <summary>Too much of the time nothing was measured.</summary>
/// <param name="UnknownShare">The share of its time without a reading, 0 to 1.</param>
public sealed record NotMeasured(double UnknownShare) : Cause(CauseKind.NotMeasured, Blame.CannotSay);

/// <summary>Its seed is past its life.</summary>
public sealed record OldSeed() : Cause(CauseKind.OldSeed, Blame.Seed);

/// <summary>Its lot was never tested, and nothing else explains it.</summary>
public sealed record UntestedLot() : Cause(CauseKind.UntestedLot, Blame.Seed);

/// <summary>The seed is treated, which can hold it back.</summary>
public sealed record TreatedSeed() : Cause(CauseKind.TreatedSeed, Blame.CannotSay);

/// <summary>Spot and seed were right: depth, or a coat that wanted soaking or cold first.</summary>
public sealed record SownWrong() : Cause(CauseKind.SownWrong, Blame.Grower);

/// <summary>It came up and plants were lost afterwards.</summary>
/// <param name="Plants">How many, at least 1.</param>
/// <param name="To">What most of them were lost to.</param>
public sealed record LostAfter(int Plants, LossCause To) : Cause(CauseKind.LostAfter, To switch
{
    LossCause.DampingOff or LossCause.Mould or LossCause.DriedOut => Blame.Water,
    LossCause.Leggy or LossCause.Handling => Blame.Grower,
    LossCause.Cold or LossCause.Heat => Blame.Spot,
    _ => Blame.CannotSay,
});

/// <summary>It came up and stood in the warm and dark.</summary>
/// <param name="Hours">For so many hours.</param>
/// <param name="Still">Whether it still does.</param>
public sealed record WarmAndDark(double Hours, bool Still = true) : Cause(CauseKind.WarmAndDark, Blame.Grower);

/// <summary>It has had what it needs and is simply late.</summary>
public sealed record Late() : Cause(CauseKind.Late, Blame.CannotSay);

/// <summary>Nothing is late yet.</summary>
public sealed record NotYet() : Cause(CauseKind.NotYet, Blame.StillOpen);

/// <summary>As many came up as could be expected.</summary>
public sealed record WentWell() : Cause(CauseKind.WentWell, Blame.Nobody);
