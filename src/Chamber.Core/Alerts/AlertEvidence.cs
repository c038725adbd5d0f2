using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>What an alert rests on. The readings themselves are in the journal: those of <see cref="Probe"/> from <see cref="From"/> to
/// <see cref="To"/>.</summary>
/// <param name="Probe">Whose readings, or null when no probe's.</param>
/// <param name="From">The first instant that counts.</param>
/// <param name="To">The last instant known.</param>
/// <param name="Figures">The numbers, one of a name.</param>
/// <param name="Fault">What sort of fault, for a faulty probe.</param>
public sealed record AlertEvidence(
    ProbeId? Probe,
    Instant From,
    Instant To,
    IReadOnlyList<Figure> Figures,
    ProbeFault Fault = ProbeFault.None)
{
    /// <summary>Why nothing more is likely to come up, for stop waiting; otherwise null.</summary>
    public CauseKind? Why { get; init; }

    /// <summary>The number of a name, or null.</summary>
    public double? Find(FigureName name)
    {
        foreach (var figure in Figures)
        {
            if (figure.Name == name)
            {
                return figure.Value;
            }
        }

        return null;
    }
}

/// <summary>A number in the evidence; its name gives its unit.</summary>
public readonly record struct Figure(FigureName Name, double Value);

/// <summary>What a number in the evidence is.</summary>
public enum FigureName
{
    /// <summary>°C, the last one.</summary>
    LatestCelsius,

    /// <summary>°C, the furthest beyond the limit.</summary>
    WorstCelsius,

    /// <summary>°C.</summary>
    LimitCelsius,

    /// <summary>°C, what is usual at this hour.</summary>
    UsualCelsius,

    /// <summary>K, a signed shift from the usual, or between two probes.</summary>
    ShiftKelvins,

    /// <summary>Hours of progress lost within the last 24.</summary>
    HoursLost,

    /// <summary>Hours that something has lasted.</summary>
    Hours,

    /// <summary>How many.</summary>
    Count,

    /// <summary>%, 0 to 100: battery, moisture or humidity.</summary>
    Percent,

    /// <summary>%, 0 to 100.</summary>
    LimitPercent,

    /// <summary>How many were up at the last look.</summary>
    Up,

    /// <summary>0 to 1.</summary>
    Chance,

    /// <summary>°C, the coolest of a day.</summary>
    LowestCelsius,

    /// <summary>K, how far the air lies above its dew point.</summary>
    DewPointGapKelvins,

    /// <summary>°C of the air around wet media that cools itself by evaporating.</summary>
    AirCelsius,
}

/// <summary>What is wrong with a probe.</summary>
public enum ProbeFault
{
    None,

    /// <summary>It sends a code that means "not measured".</summary>
    Sentinel,

    /// <summary>Lone wild values between ordinary ones.</summary>
    Spike,

    /// <summary>The same value to the last digit for far too long.</summary>
    FlatLine,

    /// <summary>It changes faster than the thing it measures can.</summary>
    ImpossibleRate,

    /// <summary>Values that fit the other unit.</summary>
    OtherUnit,

    /// <summary>Values that are impossible in a home.</summary>
    Impossible,

    /// <summary>The humidity sensor stays at its upper end: wet, or worn out.</summary>
    SaturatedHumidity,

    /// <summary>It stamps its messages with times that cannot be.</summary>
    Clock,
}

/// <summary>What an alert means for one batch.</summary>
/// <param name="Batch">Which batch.</param>
/// <param name="Crop">Its crop.</param>
/// <param name="DelayHours">Hours of progress lost so far, against its fastest; at least 0.</param>
/// <param name="ShareLost">
/// The share of sound seed, 0 to 1, that its temperatures since the sowing have cost it: one number for a batch, whatever the alert, and
/// the one that its diagnosis has; 0 where nothing is published.
/// </param>
public sealed record BatchHarm(BatchId Batch, CropId Crop, double DelayHours, double ShareLost)
{
    /// <summary>The share of sound seed, 0 to 1, that would not come up if this stayed: it orders alerts, and is put into words without a
    /// number.</summary>
    public double ShareAtStake { get; init; }

    /// <summary>Whether it is up: then there is no seed to lose, and what heat does to seedlings is not published as a share.</summary>
    public bool IsUp { get; init; }
}
