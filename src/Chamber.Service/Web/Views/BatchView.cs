using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Facts;
using Chamber.Core.Forecasts;
using Chamber.Core.Spots;
using Chamber.Service.Home;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>How far a step of a batch has come.</summary>
public enum StepState
{
    Done,
    Next,
    Later,
}

/// <summary>A step on the line from sowing to planted out.</summary>
/// <param name="Name">One word.</param>
/// <param name="State">How far it has come.</param>
/// <param name="When">When it was, or is to be; empty when nobody can say.</param>
public sealed record BatchStep(string Name, StepState State, string When);

/// <summary>A batch in a few words, with its line from sowing to planted out.</summary>
/// <param name="Batch">The batch.</param>
/// <param name="Crop">Its crop; null when the catalog no longer has it.</param>
/// <param name="Forecast">Its forecast; null when it has ended or nothing can be said.</param>
/// <param name="Diagnosis">Its diagnosis; null when the catalog no longer has its crop.</param>
/// <param name="Headline">The answer: how many are up and when the rest will be.</param>
/// <param name="Steps">From sowing to planted out.</param>
/// <param name="Spot">Where it stands; null when nowhere.</param>
public sealed record BatchView(Batch Batch, Crop? Crop, EmergenceForecast? Forecast, BatchDiagnosis? Diagnosis, string Headline,
    IReadOnlyList<BatchStep> Steps, Spot? Spot)
{
    /// <summary>How many are up in all.</summary>
    public int Up => Batch.Looks is [.., var last] ? last.Up : 0;

    /// <summary>For headings: <c>T1 tomato</c>.</summary>
    public string Title =>
        $"{(Shown is null ? Batch.Id.Text : $"{Shown} ({Batch.Id})")} {Crop?.CommonName ?? Batch.Crop.Text}{(Batch.IsTest ? ", test" : "")}";

    /// <summary>The name that people chose for it; null for none.</summary>
    public string? Shown { get; init; }

    /// <summary>How people see the spot where it stands.</summary>
    public string SpotTitle { get; init; } = "no spot";
}

/// <summary>Reads batches for the page.</summary>
internal sealed class BatchViews(HomeReader home, Instant now)
{
    private readonly HomeDiagnoses diagnoses = home.At(now).Diagnoses;
    private readonly Dictionary<SpotId, Spot> spots = home.Spots().ToDictionary(spot => spot.Id);

    private LocalDate Today => now.InZone(home.Zone).Date;

    public BatchView Of(Batch batch)
    {
        var (_, forecast, diagnosis) = diagnoses.Of(batch);
        var spot = batch.Stays is [.., { When.HasEnd: false } stay] ? spots.GetValueOrDefault(stay.Spot) : null;
        return new(batch, home.Catalog.Find(batch.Crop), forecast, diagnosis, Headline(batch, forecast), Steps(batch, forecast), spot)
        {
            Shown = home.Ledger.Names.Find(FactSubject.Of(batch.Id)),
            SpotTitle = spot is null ? "no spot" : home.Ledger.Names.Of(spot.Id),
        };
    }

    /// <summary>A time of a forecast as days to come: <c>Thursday to Saturday</c>.</summary>
    public static string When(Batch batch, TimeEstimate time, DateTimeZone zone, LocalDate today, bool several = false) =>
        time.Low is { } low
        ? CountdownText.Days((batch.SownAt + low).InZone(zone).Date, time.High is { } high ? (batch.SownAt + high).InZone(zone).Date : null,
            today, several)
        : "not to be expected here";

    private string When(Batch batch, TimeEstimate time) => When(batch, time, home.Zone, Today);

    private string Headline(Batch batch, EmergenceForecast? forecast)
    {
        var up = batch.Looks is [.., var last] ? last.Up : 0;
        if (batch.EndedAt is { } ended)
        {
            return $"Ended {TimeText.ShowDay(Day(ended), Today)}: {up} of {batch.Seeds} came up.";
        }

        if (forecast is null)
        {
            return up == 0 ? "It is too early to say when it will be up: nothing was measured where it is." : $"{up} of {batch.Seeds} up.";
        }

        if (up == batch.Seeds)
        {
            return up == 1 ? "The one seed is up." : $"All {up} are up.";
        }

        if (forecast.Stop.NeedsLook)
        {
            return up == 0 ? "Nobody has looked for long: look first." : $"{up} of {batch.Seeds} up: look again.";
        }

        if (forecast.Stop.IsDue)
        {
            return up == 0 ? "Nothing is up, and nothing is likely to come." : $"{up} of {batch.Seeds} up. More are not likely to come.";
        }

        return up == 0 ? $"First up: {When(batch, forecast.First)}." : $"{up} of {batch.Seeds} up; {Rest(batch, forecast)}.";
    }

    private string Rest(Batch batch, EmergenceForecast forecast) =>
        forecast.Half.High is { } half && Day(batch.SownAt + half) >= Today && batch.Looks[^1].Up * 2 < forecast.StandHigh
            ? $"half up {When(batch, forecast.Half)}"
            : $"most {When(batch, forecast.Most, home.Zone, Today, several: true)}";

    private List<BatchStep> Steps(Batch batch, EmergenceForecast? forecast)
    {
        List<(string Name, LocalDate? Done, string Then)> steps = [("Sown", Day(batch.SownAt), string.Empty)];
        var seen = FirstSeen.Of(batch).By;
        steps.Add((batch.Method == SowingMethod.DampTowel ? "Roots" : "Up", seen is { } at ? Day(at) : null,
            forecast is null ? string.Empty : forecast.First.Low is null ? "not here" : When(batch, forecast.First)));
        if (batch.Method == SowingMethod.DampTowel)
        {
            steps.Add(("In mix", Done(batch, StageKind.TowelPlanted), string.Empty));
        }

        if (!batch.IsTest)
        {
            var plantOut = batch.PlantOut;
            steps.Add(("Light", Done(batch, StageKind.MovedToLight) ?? InTheLight(batch, seen), string.Empty));
            steps.Add(("Pots", Done(batch, StageKind.PrickedOut) ?? Done(batch, StageKind.PottedOn), string.Empty));
            steps.Add(("Harden", Done(batch, StageKind.HardeningOff), string.Empty));
            steps.Add(("Out", Done(batch, StageKind.PlantedOut), plantOut is { } day ? TimeText.ShowDay(day, Today) : string.Empty));
        }

        return Marked(steps, batch.EndedAt is not null);
    }

    private List<BatchStep> Marked(List<(string Name, LocalDate? Done, string Then)> steps, bool ended)
    {
        // What was done without being written down lies before the last that was.
        var last = steps.FindLastIndex(step => step.Done is not null);
        return [.. steps.Select((step, i) => new BatchStep(
            step.Name,
            i <= last ? StepState.Done : i == last + 1 && !ended ? StepState.Next : StepState.Later,
            step.Done is { } day ? DayMonth(day) : step.Then))];
    }

    private LocalDate? Done(Batch batch, StageKind kind) =>
        batch.Stages.FirstOrDefault(stage => stage.Kind == kind) is { } stage ? Day(stage.At) : null;

    private LocalDate? InTheLight(Batch batch, Instant? seen) =>
        seen is { } up && batch.Stays.FirstOrDefault(
            stay => spots.GetValueOrDefault(stay.Spot)?.Light == LightLevel.Bright && (!stay.When.HasEnd || stay.When.End > up)) is { } stay
            ? Day(Instant.Max(up, stay.When.Start))
            : null;

    // What was done lies near enough that its weekday says nothing.
    private string DayMonth(LocalDate day) => day.Year == Today.Year
        ? day.ToString("d MMM", System.Globalization.CultureInfo.InvariantCulture) : TimeText.ShowDay(day, Today);

    private LocalDate Day(Instant at) => at.InZone(home.Zone).Date;
}
