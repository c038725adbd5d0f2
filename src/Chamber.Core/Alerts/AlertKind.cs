
namespace Chamber.Core.Alerts;

/// <summary>
/// Which condition an alert is about, by its name as the ledger and the interfaces keep it: "TooHot". The conditions themselves, with
/// limits, words and rules, are those of the registry under Conditions; the names here are for code outside a condition's own folder that
/// must speak of it. The default value is no condition.
/// </summary>
/// <param name="Name">Letters only, each word with a capital.</param>
public readonly record struct AlertKind(string Name)
{
    public static AlertKind TooCold { get; } = new(nameof(TooCold));

    public static AlertKind TooHot { get; } = new(nameof(TooHot));

    public static AlertKind Hazard { get; } = new(nameof(Hazard));

    public static AlertKind SilentProbe { get; } = new(nameof(SilentProbe));

    public static AlertKind NothingHeard { get; } = new(nameof(NothingHeard));

    public static AlertKind Swinging { get; } = new(nameof(Swinging));

    public static AlertKind Drifting { get; } = new(nameof(Drifting));

    public static AlertKind TooWet { get; } = new(nameof(TooWet));

    public static AlertKind DryingOut { get; } = new(nameof(DryingOut));

    public static AlertKind CoverShut { get; } = new(nameof(CoverShut));

    public static AlertKind WarmAndDark { get; } = new(nameof(WarmAndDark));

    public static AlertKind FaultyProbe { get; } = new(nameof(FaultyProbe));

    public static AlertKind ProbesDisagree { get; } = new(nameof(ProbesDisagree));

    public static AlertKind WeakBattery { get; } = new(nameof(WeakBattery));

    public static AlertKind ClockWrong { get; } = new(nameof(ClockWrong));

    public static AlertKind SurveyStale { get; } = new(nameof(SurveyStale));

    public static AlertKind StopWaiting { get; } = new(nameof(StopWaiting));

    public static AlertKind LookNow { get; } = new(nameof(LookNow));

    /// <summary>As people write it, and scripts: "too hot".</summary>
    public string Spelled => Spelling.Spaced(Name);

    /// <inheritdoc/>
    public override string ToString() => Name;
}
