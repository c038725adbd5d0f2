using Chamber.Core.Batches;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Facts;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Home.Answers;

/// <summary>A batch with everything that was recorded of it.</summary>
/// <param name="Batch">As it stands, with its forecast.</param>
/// <param name="Containers">How many containers it fills.</param>
/// <param name="DepthMillimetres">Mix above the seed; null for the crop's usual depth.</param>
/// <param name="IsTest">Whether it was sown to test its lot.</param>
/// <param name="Treatment">What was done to the seed before.</param>
/// <param name="PlantOut">When it is to be planted out; null when that is not planned.</param>
/// <param name="Alive">Up, less the lost.</param>
/// <param name="WarmHours">Warm-hours so far; null when nothing was measured.</param>
/// <param name="HalfWarmHours">What half of it needs, as this home's other batches have taught.</param>
/// <param name="Stays">Where it stood.</param>
/// <param name="Looks">Every look.</param>
/// <param name="Stages">What was done to it.</param>
/// <param name="Losses">What was lost.</param>
/// <param name="Wettings">When it was wetted again.</param>
/// <param name="Notes">Notes about it, in order of time.</param>
/// <param name="Limits">Limits of alerts that somebody has chosen for it.</param>
/// <param name="Needs">What its seed needs beside warmth and water, and how it stands with that.</param>
/// <param name="Warnings">What is odd about its sowing, or about where it stands; a sentence each.</param>
/// <param name="Cautions">What to mind with it: of the sowing, and mould when that was recorded.</param>
internal sealed record BatchWhole(
    BatchAnswer Batch,
    int Containers,
    double? DepthMillimetres,
    bool IsTest,
    string? Treatment,
    LocalDate? PlantOut,
    int Alive,
    WarmHours? WarmHours,
    WarmHours? HalfWarmHours,
    IReadOnlyList<StayAnswer> Stays,
    IReadOnlyList<Look> Looks,
    IReadOnlyList<Stage> Stages,
    IReadOnlyList<Loss> Losses,
    IReadOnlyList<Instant> Wettings,
    IReadOnlyList<NoteAnswer> Notes,
    LimitsAnswer Limits,
    IReadOnlyList<NeedAnswer> Needs,
    IReadOnlyList<string> Warnings,
    IReadOnlyList<CautionAnswer> Cautions)
{
    public static BatchWhole Of(HomeReader home, Batch batch, Instant now)
    {
        var diagnoses = home.At(now).Diagnoses;
        var crop = home.Catalog.Find(batch.Crop);
        return new(
            BatchAnswer.Of(diagnoses.Of(batch)),
            batch.Containers,
            batch.DepthMillimetres,
            batch.IsTest,
            batch.Treatment,
            batch.PlantOut,
            BatchRules.Alive(batch),
            crop is null ? null : diagnoses.Forecasts.Course(batch, crop, now)?.Total,
            crop is null ? null : diagnoses.Forecasts.HalfOf(batch, crop),
            [.. batch.Stays.Select(stay => new StayAnswer(stay.Spot, stay.When.Start, stay.When.HasEnd ? stay.When.End : null))],
            batch.Looks,
            batch.Stages,
            batch.Losses,
            batch.Wettings,
            NoteAnswer.Of(home, FactSubject.Of(batch.Id)),
            LimitsAnswer.Of(home, FactSubject.Of(batch.Id)),
            [.. HomeNeeds.Of(home, batch, now).Select(NeedAnswer.Of)],
            HomeWarnings.OfSowing(home, batch),
            [.. HomeCautions.OfSowing(home, batch).Concat(HomeCautions.OfBatch(home, batch))
                .Select(shown => CautionAnswer.Of(shown.Caution)).Distinct()]);
    }
}

/// <summary>A stay of a batch on a spot.</summary>
internal sealed record StayAnswer(SpotId Spot, Instant From, Instant? To);

/// <summary>What was forecast of a batch on one day, with what was known then.</summary>
/// <param name="At">When.</param>
/// <param name="Up">How many were up at the last look before.</param>
/// <param name="First">The first is up.</param>
/// <param name="Half">Half are up.</param>
internal sealed record ForecastThen(Instant At, int Up, TimesAnswer First, TimesAnswer Half);

/// <summary>The forecast of a batch as it changed from day to day.</summary>
internal static class ForecastHistory
{
    private const int DaysMax = 60;

    /// <summary>Once a day from the sowing on, each with the readings and looks of that day; what other batches have taught is
    /// today's.</summary>
    public static IReadOnlyList<ForecastThen> Of(HomeReader home, Batch batch, Instant now)
    {
        var known = home.At(now).Forecasts.Knowledge;
        var end = Instant.Min(now, batch.EndedAt ?? now);
        List<ForecastThen> days = [];
        for (var at = Instant.Min(batch.SownAt + Duration.FromDays(1), end); days.Count < DaysMax; at = Instant.Min(
            at + Duration.FromDays(1), end))
        {
            if (BatchAsOf.Of(batch, at) is { } then && new HomeForecasts(home, at, known).Of(then with { EndedAt = null }) is { } forecast)
            {
                days.Add(new(at, then.Looks is [.., var last] ? last.Up : 0, TimesAnswer.Of(batch.SownAt, forecast.First),
                    TimesAnswer.Of(batch.SownAt, forecast.Half)));
            }

            if (at == end)
            {
                break;
            }
        }

        return days;
    }
}
