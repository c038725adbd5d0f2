using Chamber.Core.Batches;
using Chamber.Core.Diagnosis;

namespace Chamber.Core.Forecasts;

/// <summary>Free water in the cold rots seed sooner. How fast is published for no garden crop; the number is an assumption.</summary>
public static class ColdRot
{
    /// <summary>Seed that stands in water in the cold lasts so much of the days that damp seed lasts. Common practice, no source;
    /// the half is an assumption.</summary>
    public const double WetShare = 0.5;

    /// <summary>Media over this share of its own saturated reading is wet, percent; the watch warns there. Common practice, no
    /// source.</summary>
    private const double WetPercent = 90;

    /// <summary>A prior that knows of it: for a batch that felt wet at the last look that says, or that a probe measures wet now, on a
    /// spot that is cold for its crop.</summary>
    /// <param name="prior">The prior.</param>
    /// <param name="batch">The batch.</param>
    /// <param name="ahead">How cold it is.</param>
    /// <param name="percentNow">What a calibrated probe in its media says; null without one.</param>
    public static EmergencePrior On(EmergencePrior prior, Batch batch, SpotAhead ahead, double? percentNow = null)
    {
        ArgumentNullException.ThrowIfNull(prior);
        ArgumentNullException.ThrowIfNull(batch);
        ArgumentNullException.ThrowIfNull(ahead);
        var isWet = batch.Looks.LastOrDefault(look => look.Moisture is not null) is { Moisture: LookMoisture.Wet }
            || percentNow > WetPercent;
        return isWet && ahead.IsCold ? prior with { WaitDays = prior.WaitDays * WetShare } : prior;
    }
}
