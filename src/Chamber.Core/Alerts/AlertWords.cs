using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Core.Alerts;

/// <summary>How words are to be put.</summary>
/// <param name="Fahrenheit">°F instead of °C.</param>
/// <param name="Zone">Whose clock the times are told by.</param>
public sealed record WordStyle(bool Fahrenheit, DateTimeZone Zone);

/// <summary>An alert in plain words.</summary>
/// <param name="Title">What and where, a few words.</param>
/// <param name="What">What is measured and since when.</param>
/// <param name="Harm">How bad it is for the batches concerned; empty when it is not about a batch.</param>
/// <param name="ToDo">What to do about it.</param>
/// <param name="Caution">The caution that belongs to it, or empty.</param>
public sealed record AlertText(string Title, string What, string Harm, string ToDo, string Caution)
{
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
            _ => new(Spell(alert.Kind), "", "", "", ""),
        };
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

    private static AlertText TooCold(Teller teller) => new(
        $"Too cold on {teller.Subject}",
        $"{teller.Latest()} there at {teller.LastTime()}, below {teller.Limit()} since {teller.Since()}; {teller.Hours(FigureName.HoursLost)} of progress were lost within 24 h.",
        teller.Harm(),
        "Move it to a warmer spot, or see why this one has cooled: heating off, appliance off, lid off, door open.",
        "");

    private static AlertText TooHot(Teller teller) => new(
        $"Too hot on {teller.Subject}",
        $"{teller.Latest()} there at {teller.LastTime()}, above {teller.Limit()} since {teller.Since()}, at worst {teller.Worst()}.",
        teller.Harm(),
        "Raise it on slats, open the lid a crack, or move it somewhere cooler.",
        teller.Caution());

    private static AlertText Hazard(Teller teller)
    {
        var danger = teller.Alert.Severity == Severity.Danger;
        return new(
            danger ? $"Danger: {teller.Worst()} on {teller.Subject}" : $"Heat that harms seed on {teller.Subject}",
            $"{teller.Worst()} was measured there, over {teller.Limit()}, first at {teller.Since()}.",
            teller.Harm(),
            danger ? "Go and look now. Unplug what heats it, if you can do so safely." : "Take it off the heat now, and look for what is heating it.",
            teller.Caution());
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

    /// <summary>Puts the parts of one alert into words.</summary>
    private sealed class Teller(Alert alert, HomeFacts facts, WordStyle style)
    {
        public Alert Alert => alert;

        public string Subject => alert.Subject.Name;

        public HomeFacts Facts => facts;

        public string Since() => Time(alert.Since);

        public string LastTime() => Time(alert.Evidence.To);

        public string Time(Instant instant) => DayAndTime.Format(instant.InZone(style.Zone).LocalDateTime);

        public string Latest() => Celsius(FigureName.LatestCelsius);

        public string Worst() => Celsius(FigureName.WorstCelsius);

        public string Limit() => Celsius(FigureName.LimitCelsius);

        public string Celsius(FigureName name) =>
            alert.Evidence.Find(name) is { } celsius ? Degrees(Temperature.FromCelsius(celsius)) : "an unknown temperature";

        public string Kelvins(FigureName name)
        {
            var kelvins = Math.Abs(alert.Evidence.Find(name) ?? 0);
            return style.Fahrenheit
                ? string.Create(CultureInfo.InvariantCulture, $"{kelvins * 9 / 5:0.0} °F")
                : string.Create(CultureInfo.InvariantCulture, $"{kelvins:0.0} °C");
        }

        public string Hours(FigureName name) => HoursOf(alert.Evidence.Find(name) ?? 0);

        public string Number(FigureName name) =>
            string.Create(CultureInfo.InvariantCulture, $"{alert.Evidence.Find(name) ?? 0:0}");

        public string Ending() => alert.CloseReason switch
        {
            CloseReason.Withdrawn => "Readings that came late show that it never held.",
            CloseReason.Gone => $"It ended at {Time(alert.ClosedAt!.Value)}, when what it was about was moved or taken away.",
            CloseReason.LoneReading => "It was one lone reading; the ones after it are ordinary. Watch that probe.",
            CloseReason.NowUsual => $"Since {Time(alert.ClosedAt!.Value)} it counts as the usual there.",
            CloseReason.OtherCause => "Another alert tells the same cause.",
            _ => $"It was over at {Time(alert.ClosedAt!.Value)}.",
        };

        public string Harm() => string.Join(' ', alert.Harm.Select(HarmOf).Where(text => text.Length > 0));

        public string Caution()
        {
            var spot = facts.Spots.FirstOrDefault(known => alert.Subject == AlertSubject.Of(known.Id));
            return spot is null ? "" : Cautions.OfHeat(spot.Kind);
        }

        private string Degrees(Temperature temperature) => style.Fahrenheit
            ? string.Create(CultureInfo.InvariantCulture, $"{temperature.Fahrenheit:0} °F")
            : string.Create(CultureInfo.InvariantCulture, $"{temperature.Celsius:0.0} °C");

        private string HarmOf(BatchHarm harm)
        {
            var name = $"{harm.Batch} ({facts.Batches.FirstOrDefault(known => known.Batch.Id == harm.Batch)?.Crop.CommonName ?? harm.Crop.Text})";
            var parts = new List<string>();
            if (harm.DelayHours >= 1)
            {
                parts.Add($"comes up about {DelayOf(harm.DelayHours)} later by it");
            }

            if (harm.ShareLost >= 0.05)
            {
                parts.Add(string.Create(CultureInfo.InvariantCulture, $"stands to lose {harm.ShareLost * 100:0} % of its seed if it stays so"));
            }

            return parts.Count == 0 ? "" : $"{name} {string.Join(", and ", parts)}.";
        }

        private static string DelayOf(double hours) => hours < 18
            ? HoursOf(hours)
            : string.Create(CultureInfo.InvariantCulture, $"{hours / 24:0.0} days");

        private static string HoursOf(double hours) => hours < 1.5
            ? string.Create(CultureInfo.InvariantCulture, $"{hours * 60:0} min")
            : string.Create(CultureInfo.InvariantCulture, $"{hours:0.#} h");
    }
}

/// <summary>The usual cautions where heat is concerned. They defer to makers, local codes and qualified people.</summary>
internal static class Cautions
{
    public static string OfHeat(SpotKind kind) => kind switch
    {
        SpotKind.HeatMat => "Unplug the mat at the wall with dry hands. Never cover, fold or insulate it, and use it with its thermostat as its maker says.",
        SpotKind.BoilerCupboard => "Keep everything that burns clear of the boiler and its flue. If you smell burning or gas, leave it and call whoever is qualified where you live.",
        SpotKind.ApplianceTop or SpotKind.Electronics => "Keep vents clear and water away from it; unplug it if it is hotter than usual, and have it looked at.",
        SpotKind.AquariumSide => "Unplug it before hands or trays come near the water.",
        SpotKind.Radiator => "Nothing that burns should lie on it.",
        SpotKind.Sill => "A shut lid in the sun cooks what is under it: open it.",
        _ => "Whatever heats it: unplug it first, then look. Local codes and qualified people come before this program.",
    };
}
