
namespace Chamber.Core.Diagnosis;

/// <summary>What seeds and plants of a batch are lost to.</summary>
public enum LossKind
{
    /// <summary>The seed itself: some of every lot do not come up.</summary>
    Seed,
    Heat,
    Cold,

    /// <summary>Going from too cold to too hot.</summary>
    Swings,

    /// <summary>Mould, standing water or drying out.</summary>
    Water,

    /// <summary>Want of light.</summary>
    Light,

    /// <summary>Want of a moist chill.</summary>
    Chill,

    /// <summary>Nothing that is known.</summary>
    Unknown,

    /// <summary>After they had come up.</summary>
    AfterUp,
}

/// <summary>A part of a loss.</summary>
/// <param name="Kind">What to.</param>
/// <param name="Seeds">How many of the seeds sown, above 0.</param>
public readonly record struct LossPart(LossKind Kind, double Seeds);

/// <summary>
/// What a batch loses, taken apart: the seeds of those sown that make no plant, each counted once, so that the parts never add up to
/// more than the batch. First the seed's own share, then what the temperatures take of the sound ones, then what neither explains;
/// plants lost after they came up are those recorded.
/// </summary>
/// <param name="Sown">How many were sown.</param>
/// <param name="Parts">The parts, the largest first.</param>
public sealed record LossAccount(int Sown, IReadOnlyList<LossPart> Parts)
{
    /// <summary>Less than this much of a seed is a matter of rounding.</summary>
    private const double Least = 0.05;

    /// <summary>The one number: how many of the seeds sown make no plant, 0 to <see cref="Sown"/>.</summary>
    public double Seeds => Parts.Sum(part => part.Seeds);

    /// <summary>The same as a share of those sown.</summary>
    public double Share => Sown > 0 ? Seeds / Sown : 0;

    /// <summary>How many are lost to one thing.</summary>
    public double To(LossKind kind) => Parts.Where(part => part.Kind == kind).Sum(part => part.Seeds);

    internal static LossAccount Of(BatchCase known, LossKind heat, LossKind rest)
    {
        double seeds = known.Count.Seeds;
        var final = Math.Clamp(known.IsOver ? known.Count.Up : known.ExpectedUp ?? seeds * known.Expected, known.Count.Up, seeds);
        var missing = seeds - final;
        var bySeed = seeds * (1 - known.Lot.Mean);
        var byTemperature = seeds * known.Lot.Mean * (1 - known.StandShare);
        var explained = bySeed + byTemperature;
        var scale = explained > missing ? missing / explained : 1;
        var after = Math.Min(known.LostAfter, final);
        return new(known.Count.Seeds,
        [
            .. new LossPart[]
            {
                new(LossKind.Seed, bySeed * scale),
                new(heat, byTemperature * scale),
                new(rest, Math.Max(0, missing - explained)),
                new(LossKind.AfterUp, after),
            }.GroupBy(part => part.Kind)
            .Select(same => new LossPart(same.Key, same.Sum(part => part.Seeds)))
            .Where(part => part.Seeds >= Least)
            .OrderByDescending(part => part.Seeds),
        ]);
    }
}
