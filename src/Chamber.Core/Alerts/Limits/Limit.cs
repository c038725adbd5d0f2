using NodaTime;

namespace Chamber.Core.Alerts.Limits;

/// <summary>A limit of a condition that a user may set.</summary>
/// <param name="Name">Its name in scripts and settings: "too hot hold".</param>
/// <param name="Meaning">What it limits, in a few words.</param>
/// <param name="Source">Where its usual value comes from.</param>
public abstract record Limit(string Name, string Meaning, string Source)
{
    /// <summary>A value that growers use and nobody has published.</summary>
    public const string CommonPractice = "common practice, no source";
}

/// <summary>A limit that is a number.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Usual">Its value unless it is set; more than 0.</param>
/// <param name="Unit">Its unit: "°C", "K", "%", "h".</param>
/// <param name="Meaning">What it limits.</param>
/// <param name="Source">Where the usual value comes from.</param>
public sealed record NumberLimit(string Name, double Usual, string Unit, string Meaning, string Source = Limit.CommonPractice)
    : Limit(Name, Meaning, Source)
{
    /// <summary>What it may be set to.</summary>
    public Bound Bound => Unit switch
    {
        "°C" => Bounds.LimitCelsius,
        "K" => Bounds.LimitKelvins,
        "%" => Bounds.LimitPercent,
        "h" => Bounds.LimitHours,
        _ => throw new InvalidOperationException($"Nothing bounds a limit in {Unit}."),
    };
}

/// <summary>A limit that is a length of time.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Usual">Its value unless it is set; more than nothing.</param>
/// <param name="Meaning">What it limits.</param>
/// <param name="Source">Where the usual value comes from.</param>
public sealed record TimeLimit(string Name, Duration Usual, string Meaning, string Source = Limit.CommonPractice)
    : Limit(Name, Meaning, Source);
