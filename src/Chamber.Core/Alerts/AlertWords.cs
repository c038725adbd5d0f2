using Chamber.Core.Cautions;
using Chamber.Core.Climate;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Core.Alerts;

/// <summary>How words are to be put.</summary>
/// <param name="Fahrenheit">°F instead of °C.</param>
/// <param name="Zone">Whose clock the times are told by.</param>
public sealed record WordStyle(bool Fahrenheit, DateTimeZone Zone)
{
    /// <summary>The scale of <see cref="Fahrenheit"/>.</summary>
    public TemperatureScale Scale => Fahrenheit ? TemperatureScale.Fahrenheit : TemperatureScale.Celsius;
}

/// <summary>An alert in plain words.</summary>
/// <param name="Title">What and where, a few words.</param>
/// <param name="What">What is measured and since when.</param>
/// <param name="Harm">How bad it is for the batches concerned; empty when it is not about a batch.</param>
/// <param name="ToDo">What to do about it.</param>
/// <param name="Caution">The cautions that belong to it as this moment wants them, or empty: <see cref="Cautions"/> in words.</param>
public sealed record AlertText(string Title, string What, string Harm, string ToDo, string Caution)
{
    /// <summary>What to mind before a hand goes where the alert sends it.</summary>
    public IReadOnlyList<ShownCaution> Cautions { get; init; } = [];

    /// <summary>The same in one line each, for wherever the alert was told before; or empty.</summary>
    public string CautionLine => CautionText.Lines(Cautions);

    /// <summary>All of it in one paragraph.</summary>
    public override string ToString() =>
        string.Join(' ', new[] { $"{Title}.", What, Harm, ToDo, Caution }.Where(part => part.Length > 0));
}

/// <summary>Puts alerts into words: what, since when, how bad for this batch, what to do.</summary>
public static partial class AlertWords
{
    private static readonly LocalDateTimePattern DayAndTime = LocalDateTimePattern.CreateWithInvariantCulture("ddd d MMM HH:mm");

    /// <summary>The alert in words.</summary>
    /// <param name="alert">The alert.</param>
    /// <param name="facts">For the kinds of spots and the names of crops.</param>
    /// <param name="style">Units and zone.</param>
    public static AlertText Of(Alert alert, HomeFacts facts, WordStyle style)
    {
        var teller = new Teller(alert, facts, style);
        var text = alert.Kind switch
        {
            AlertKind.TooCold => TooCold(teller),
            AlertKind.TooHot => TooHot(teller),
            AlertKind.Hazard => Hazard(teller),
            AlertKind.SilentProbe => Silent(teller),
            AlertKind.NothingHeard => NothingHeard(teller),
            AlertKind.Swinging => Swinging(teller),
            AlertKind.Drifting => Drifting(teller),
            AlertKind.SurveyStale => SurveyStale(teller),
            AlertKind.ProbesDisagree => ProbesDisagree(teller),
            AlertKind.TooWet => TooWet(teller),
            AlertKind.DryingOut => DryingOut(teller),
            AlertKind.CoverShut => CoverShut(teller),
            AlertKind.WarmAndDark => WarmAndDark(teller),
            AlertKind.FaultyProbe => FaultyProbe(teller),
            AlertKind.WeakBattery => WeakBattery(teller),
            AlertKind.ClockWrong => ClockWrong(teller),
            AlertKind.StopWaiting => StopWaiting(teller),
            AlertKind.LookNow => LookNow(teller),
            _ => throw new ArgumentOutOfRangeException(nameof(alert), alert.Kind, "No such kind of alert."),
        };
        var cautions = AlertCautions.Of(alert, facts);
        text = text with { Cautions = cautions, Caution = CautionText.Of(cautions) };
        return alert.IsOpen ? text : text with { What = $"{text.What} {teller.Ending()}", ToDo = "" };
    }

    /// <summary>The kind as people write it: "too cold". Also its word in scripts, with hyphens for spaces.</summary>
    public static string Spell(AlertKind kind) => kind switch
    {
        AlertKind.TooCold => "too cold",
        AlertKind.TooHot => "too hot",
        AlertKind.Hazard => "hazard",
        AlertKind.SilentProbe => "silent probe",
        AlertKind.NothingHeard => "nothing heard",
        AlertKind.Swinging => "swinging",
        AlertKind.Drifting => "drifting",
        AlertKind.TooWet => "too wet",
        AlertKind.DryingOut => "drying out",
        AlertKind.CoverShut => "cover shut",
        AlertKind.WarmAndDark => "warm and dark",
        AlertKind.FaultyProbe => "faulty probe",
        AlertKind.ProbesDisagree => "probes disagree",
        AlertKind.WeakBattery => "weak battery",
        AlertKind.ClockWrong => "clock wrong",
        AlertKind.SurveyStale => "survey stale",
        AlertKind.StopWaiting => "stop waiting",
        AlertKind.LookNow => "look now",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such kind of alert."),
    };

    private static AlertText TooCold(Teller teller)
    {
        var evaporates = teller.Alert.Evidence.Find(FigureName.AirCelsius) is not null;
        return new(
            $"Too cold on {teller.Subject}",
            $"{teller.Latest()} there at {teller.LastTime()}, below {teller.Limit()} since {teller.Since()}; {teller.Hours(FigureName.HoursLost)} of progress were lost within 24 h.",
            teller.Harm(),
            evaporates
                ? $"The air around it is {teller.Celsius(FigureName.AirCelsius)}: wet mix in the open cools itself as water evaporates. Cover it."
                : "Move it to a warmer spot, or see why this one has cooled: heating off, appliance off, lid off, door open.",
            "");
    }

    private static AlertText TooHot(Teller teller) => new(
        teller.AreUp ? $"Too hot for seedlings on {teller.Subject}" : $"Too hot on {teller.Subject}",
        $"{teller.Latest()} there at {teller.LastTime()}, above {teller.Limit()} since {teller.Since()}, at worst {teller.Worst()}.",
        teller.Harm(),
        teller.AreUp ? "Take the lid off, and shade them or move them somewhere cooler and bright." : "Raise it on slats, open the lid a crack, or move it somewhere cooler.",
        "");

    private static AlertText Hazard(Teller teller)
    {
        var danger = teller.Alert.Severity == Severity.Danger;
        return new(
            danger ? $"Danger: {teller.Worst()} on {teller.Subject}" : $"Heat that harms seed on {teller.Subject}",
            $"{teller.Worst()} was measured there, over {teller.Limit()}, first at {teller.Since()}.",
            teller.Harm(),
            danger ? "Go and look now. Unplug what heats it, if you can do so safely." : "Take it off the heat now, and look for what is heating it.",
            "");
    }

    private static AlertText Silent(Teller teller) => new(
        $"Nothing heard from {teller.Subject}",
        $"Its last reading is of {teller.Since()}{(teller.Alert.Evidence.Find(FigureName.LatestCelsius) is null ? "" : $" ({teller.Latest()})")}; it should speak at least every {teller.Hours(FigureName.Hours)}.",
        "What happens there meanwhile is not known, and is not counted.",
        "Check its battery and whether it is in reach; until it speaks, read a thermometer.",
        "");

    private static AlertText NothingHeard(Teller teller) => new(
        "No probe is heard",
        $"Nothing has come from any of {teller.Number(FigureName.Count)} probes since {teller.Since()}.",
        "Nothing is watched meanwhile.",
        "One cause is likelier than many: see whether the broker runs, the network is up, and the power is on.",
        "");
}
