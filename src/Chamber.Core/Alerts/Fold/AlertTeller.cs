using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Facts;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Core.Alerts.Fold;

/// <summary>Puts the parts of one alert into words, for the words of its condition.</summary>
internal sealed class AlertTeller(Alert alert, HomeFacts facts, WordStyle style)
{
    private static readonly LocalDateTimePattern DayAndTime = LocalDateTimePattern.CreateWithInvariantCulture("ddd d MMM HH:mm");

    public Alert Alert => alert;

    /// <summary>What it is about, as people see it.</summary>
    public string Subject => alert.Subject.Kind switch
    {
        SubjectKind.Spot => Shown(FactSubjectKind.Spot),
        SubjectKind.Probe => Shown(FactSubjectKind.Probe),
        SubjectKind.Batch => Shown(FactSubjectKind.Batch),
        _ => alert.Subject.Name,
    };

    /// <summary>A number of its evidence.</summary>
    public double? Find(FigureName name) => alert.Evidence.Find(name);

    public string Since() => Time(alert.Since);

    public string LastTime() => Time(alert.Evidence.To);

    public string Time(Instant instant) => DayAndTime.Format(instant.InZone(style.Zone).LocalDateTime);

    public string Latest() => Celsius(FigureName.LatestCelsius);

    public string Worst() => Celsius(FigureName.WorstCelsius);

    public string Limit() => Celsius(FigureName.LimitCelsius);

    /// <summary>The limit, and that it is somebody's own where it is.</summary>
    public string HotLimit() => IsOwn(own => own.Hot) ? $"your own limit of {Limit()}" : Limit();

    /// <inheritdoc cref="HotLimit"/>
    public string ColdLimit() => IsOwn(own => own.Cold) ? $"your own limit of {Limit()}" : Limit();

    // Limits are of whole numbers and halves: what differs by less is the same.
    private bool IsOwn(Func<(double? Hot, double? Cold), double?> of) => alert.Evidence.Find(FigureName.LimitCelsius) is { } limit
        && alert.Harm.Any(harm => of(facts.OwnLimitsOf(harm.Batch, alert.Subject.Kind == SubjectKind.Spot ? new(alert.Subject.Name) : null))
            is { } own && Math.Abs(own - limit) < 0.001);

    public string Celsius(FigureName name) =>
        alert.Evidence.Find(name) is { } celsius ? style.Scale.ShowMeasured(Temperature.FromCelsius(celsius)) : "an unknown temperature";

    public string Band(double lowCelsius, double highCelsius) => style.Scale.Show(lowCelsius, highCelsius);

    public string Kelvins(FigureName name)
    {
        var kelvins = Math.Abs(alert.Evidence.Find(name) ?? 0);
        return style.Fahrenheit
            ? string.Create(CultureInfo.InvariantCulture, $"{kelvins * 9 / 5:0.0} °F")
            : string.Create(CultureInfo.InvariantCulture, $"{kelvins:0.0} °C");
    }

    /// <summary>How far the air lies above its dew point, to add to a sentence; empty where that is not known.</summary>
    public string DewPointGap() => alert.Evidence.Find(FigureName.DewPointGapKelvins) is null ? ""
        : $", and lies {Kelvins(FigureName.DewPointGapKelvins)} above its dew point";

    public string Hours(FigureName name) => HoursOf(alert.Evidence.Find(name) ?? 0);

    public string Number(FigureName name) =>
        string.Create(CultureInfo.InvariantCulture, $"{alert.Evidence.Find(name) ?? 0:0}");

    public string Share(FigureName name) =>
        string.Create(CultureInfo.InvariantCulture, $"{(alert.Evidence.Find(name) ?? 0) * 100:0} %");

    /// <summary>The diagnosis of the batch that an open alert gives up; null where it says no longer, or not yet, that waiting is
    /// over.</summary>
    public BatchDiagnosis? GivenUp() =>
        alert.IsOpen && facts.DiagnosisOf(new(alert.Subject.Name)) is { Phase: BatchPhase.Due } known ? known : null;

    private string Shown(FactSubjectKind kind) => facts.Names.Of(new FactSubject(kind, alert.Subject.Name));

    public bool MethodIs(SowingMethod method) =>
        facts.Batches.Any(known => known.Batch.Id.Text == alert.Subject.Name && known.Batch.Method == method);

    public string Ending() => alert.CloseReason switch
    {
        CloseReason.Withdrawn => "Readings that came late show that it never held.",
        CloseReason.Gone => $"It ended at {Time(alert.ClosedAt!.Value)}, when what it was about was moved or taken away.",
        CloseReason.LoneReading => "It was one lone reading; the ones after it are ordinary. Watch that probe.",
        CloseReason.NowUsual => $"Since {Time(alert.ClosedAt!.Value)} it counts as the usual there.",
        CloseReason.OtherCause => "Another alert tells the same cause.",
        _ => $"It was over at {Time(alert.ClosedAt!.Value)}.",
    };

    /// <summary>Whether all batches concerned are up.</summary>
    public bool AreUp => alert.Harm.Count > 0 && alert.Harm.All(harm => harm.IsUp);

    public string Harm() => string.Join(' ', alert.Harm.Select(HarmOf).Where(text => text.Length > 0));

    private string HarmOf(BatchHarm harm)
    {
        var name = $"{facts.Names.Of(harm.Batch)} "
            + $"({facts.Batches.FirstOrDefault(known => known.Batch.Id == harm.Batch)?.Crop.CommonName ?? harm.Crop.Text})";
        if (harm.IsUp)
        {
            return $"{name} is up: seedlings wilt and scorch in such heat, or grow long and soft; by day they do best at "
                + $"{GrowingDay(harm)}.";
        }

        var parts = new List<string>();
        if (harm.DelayHours >= 1)
        {
            parts.Add($"comes up about {DelayOf(harm.DelayHours)} later by it");
        }

        if (harm.ShareLost >= 0.05)
        {
            parts.Add(string.Create(CultureInfo.InvariantCulture,
                $"has lost about {harm.ShareLost * 100:0} % of its seed to the temperature so far"));
        }

        if (Much(harm) is { } much)
        {
            parts.Add($"will lose {much} of its seed if it stays so");
        }

        return parts.Count switch
        {
            0 => "",
            1 => $"{name} {parts[0]}.",
            _ => $"{name} {string.Join(", ", parts.SkipLast(1))} and {parts[^1]}.",
        };
    }

    /// <summary>What is at stake beyond what is lost, without a second number; null when that is little.</summary>
    private static string? Much(BatchHarm harm) => (harm.ShareAtStake - harm.ShareLost, harm.ShareAtStake) switch
    {
        ( < 0.05, _) => null,
        (_, >= 0.5) => "most",
        (_, >= 0.2) => "much",
        _ => "some",
    };

    private string GrowingDay(BatchHarm harm) =>
        facts.Batches.FirstOrDefault(known => known.Batch.Id == harm.Batch)?.Crop.Guide?.GrowingDay is { } day ? style.Scale.Show(day)
            : style.Scale.Show(18, 21);

    private static string DelayOf(double hours) => hours < 18
        ? HoursOf(hours)
        : string.Create(CultureInfo.InvariantCulture, $"{hours / 24:0.0} days");

    private static string HoursOf(double hours) => hours < 1.5
        ? string.Create(CultureInfo.InvariantCulture, $"{hours * 60:0} min")
        : string.Create(CultureInfo.InvariantCulture, $"{hours:0.#} h");
}
