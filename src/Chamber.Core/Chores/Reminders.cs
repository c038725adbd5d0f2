using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Needs;
using Chamber.Core.Plans;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Chores;

/// <summary>The days that a forecast gives a batch, in the home's zone; null where it cannot say.</summary>
/// <param name="FirstFrom">The first may be up from here.</param>
/// <param name="FirstTo">And is up by here, nine times in ten.</param>
/// <param name="StopOn">The day to stop waiting.</param>
/// <param name="StopAdvice">What to do about the silence, by its reason.</param>
public sealed record ForecastDays(LocalDate? FirstFrom, LocalDate? FirstTo, LocalDate? StopOn, string? StopAdvice = null)
{
    /// <summary>Why a look comes before anything is given up; null when somebody has looked.</summary>
    public string? LookFirst { get; init; }
}

/// <summary>What is known beside the batch itself.</summary>
/// <param name="Batch">The batch.</param>
/// <param name="Crop">Its crop.</param>
/// <param name="Days">The days of its forecast.</param>
/// <param name="Light">The light on its spot now.</param>
/// <param name="PlantOut">When it is to be planted out; null when not planned.</param>
/// <param name="Today">Today, in the home's zone.</param>
/// <param name="Zone">The home's zone.</param>
public sealed record BatchDay(
    Batch Batch,
    Crop Crop,
    ForecastDays Days,
    LightLevel Light,
    LocalDate? PlantOut,
    LocalDate Today,
    DateTimeZone Zone)
{
    /// <summary>How temperatures are put.</summary>
    public TemperatureScale Scale { get; init; }

    /// <summary>How far its moist chill is; null for a crop that wants none.</summary>
    public ChillState? Chill { get; init; }

    /// <summary>Whether its lot is treated, so that hands go to it in gloves.</summary>
    public bool IsTreated { get; init; }
}

/// <summary>What a batch needs next, by method and crop.</summary>
public static class Reminders
{
    /// <summary>After emergence, first true leaves are large enough to hold. Common practice, no source.</summary>
    private const int PrickOutFrom = 10;
    private const int PrickOutTo = 21;

    /// <summary>Seed whose first may be up within three days wants two looks a day. Common practice, no source.</summary>
    private const int FastDays = 3;

    /// <summary>Everything still to do for a batch, soonest first; empty once it has ended.</summary>
    public static IReadOnlyList<Reminder> For(BatchDay day)
    {
        ArgumentNullException.ThrowIfNull(day);
        if (day.Batch.EndedAt is not null)
        {
            return [];
        }

        var before = FirstSeen.Of(day.Batch).By is null ? BeforeUp(day) : AfterUp(day).Concat(LookFirst(day));
        return [.. before.Concat(Outdoors(day)).OrderBy(reminder => reminder.From)];
    }

    private static IEnumerable<Reminder> LookFirst(BatchDay day)
    {
        if (day.Days is { LookFirst: { } why, StopOn: { } stop })
        {
            yield return Make(day, ReminderKind.Look, stop, stop.PlusDays(2),
                $"{why} Record what is there, even if nothing is new.");
        }
    }

    /// <summary>Into the cold, or out of it, where the crop needs a moist chill.</summary>
    private static IEnumerable<Reminder> Chilling(BatchDay day)
    {
        if (day.Chill is not { } chill)
        {
            yield break;
        }

        if (chill is { IsNow: true })
        {
            var on = day.Today.PlusDays((int)Math.Ceiling(chill.DaysLeft));
            yield return Make(day, ReminderKind.EndChill, on, 3,
                $"Its {chill.Need.EnoughDays} days of moist chill are over: move it to its warm spot, and record the move.");
        }
        else if (chill.Need.IsNeeded && !chill.IsEnough && chill.Days < chill.Need.Days!.Value.Low)
        {
            yield return Make(day, ReminderKind.Chill, Date(day, day.Batch.SownAt), 7,
                $"{day.Crop.CommonName} wants {chill.Need.EnoughDays} days of moist chill first, and has had "
                + $"{Math.Floor(chill.Days):0}: put it in the refrigerator as it is, damp and closed, and record the move.");
        }
    }

    private static IEnumerable<Reminder> BeforeUp(BatchDay day)
    {
        foreach (var chilling in Chilling(day))
        {
            yield return chilling;
        }

        if (day.Days.LookFirst is not null)
        {
            foreach (var look in LookFirst(day))
            {
                yield return look;
            }

            yield break;
        }

        if (day.Days is { FirstFrom: { } from, FirstTo: { } to })
        {
            var fast = Period.DaysBetween(Date(day, day.Batch.SownAt), from) <= FastDays;
            yield return Make(day, ReminderKind.Look, from, to, fast
                ? $"Look morning and evening: {day.Crop.CommonName} is quick, and a day late is late."
                : "Look once a day from now on, and record it even when nothing is up.");
        }

        if (day.Days.StopOn is { } stop)
        {
            yield return Make(day, ReminderKind.StopWaiting, stop, stop.PlusDays(2),
                day.Days.StopAdvice ?? "If nothing is up by now, dig one seed up: firm, wait on; soft, sow again.");
        }
    }

    private static IEnumerable<Reminder> AfterUp(BatchDay day)
    {
        var (batch, crop) = (day.Batch, day.Crop);
        var seen = Date(day, FirstSeen.Of(batch).By!.Value);
        if (batch.IsTest)
        {
            yield return Make(day, ReminderKind.CallTest, Date(day, batch.SownAt).PlusDays(FinalCountDay(crop)), 2,
                "Last count of the germination test: record it and end the test.");
            yield break;
        }

        if (batch.Method == SowingMethod.DampTowel && !Done(batch, StageKind.TowelPlanted))
        {
            yield return Make(day, ReminderKind.PlantFromTowel, seen, 1,
                $"{(day.IsTreated ? "In gloves, plant" : "Plant")} those with 3 to 10 mm of root, root down, 5 to 10 mm deep, today: roots "
                + $"grow into the towel. Keep them warm and covered until the shoot shows.");
            yield break;
        }

        if (!Done(batch, StageKind.MovedToLight) && day.Light != LightLevel.Bright)
        {
            yield return Make(day, ReminderKind.ToTheLight, LightFrom(day, seen), 1, ToTheLight(batch, crop, day.Scale));
        }

        if (!Done(batch, StageKind.PrickedOut) && !Done(batch, StageKind.PlantedOut) && crop.Guide is { IsPrickedOut: true } guide)
        {
            yield return Make(day, ReminderKind.PrickOut, seen.PlusDays(PrickOutFrom), PrickOutTo - PrickOutFrom,
                $"Prick out ({guide.PotOn}): hold by a leaf, never the stem.");
        }
    }

    private static IEnumerable<Reminder> Outdoors(BatchDay day)
    {
        if (day.PlantOut is not { } plantOut || day.Batch.IsTest || Done(day.Batch, StageKind.PlantedOut))
        {
            yield break;
        }

        if (!Done(day.Batch, StageKind.HardeningOff))
        {
            yield return Make(day, ReminderKind.HardenOff, plantOut.PlusDays(-HardeningLadder.Days), 2,
                $"Start hardening off: an hour or two in shade on the first day, longer each day; nights out only above "
                + $"{day.Scale.Show(HardeningLadder.NightLimit(day.Crop.Guide))}.");
        }

        yield return Make(day, ReminderKind.PlantOut, plantOut, 7,
            "Plant out on a dull day if the nights ahead are mild; the soil in the morning matters more than the date.");
    }

    private static string ToTheLight(Batch batch, Crop crop, TemperatureScale scale)
    {
        var growing = $" Grow on at {(crop.Guide?.GrowingDay is { } band ? scale.Show(band) : scale.Show(18, 21))}.";
        const string why = "Warm and dark, seedlings grow long and pale within a day or two.";
        if (batch.Method == SowingMethod.DampTowel)
        {
            return $"Shoots of those planted show about now: cover off and into the light the same day. {why}{growing}";
        }

        var up = batch.Looks[^1].Up;
        var rest = up * 3 < batch.Seeds ? " So few are up that the rest may stay warm: pot the early ones, or move all once a third is up."
            : string.Empty;
        return $"{up} of {batch.Seeds} up: cover off and into the light today. {why}{growing}{rest}";
    }

    /// <summary>From the towel, the shoot shows two to five days after planting; only then is there anything to light. Common practice, no
    /// source.</summary>
    private static LocalDate LightFrom(BatchDay day, LocalDate seen) =>
        day.Batch.Stages.LastOrDefault(stage => stage.Kind == StageKind.TowelPlanted) is { } planted
            ? Date(day, planted.At).PlusDays(2)
            : seen;

    private static int FinalCountDay(Crop crop) => crop.Guide?.LabTest?.FinalCountDay ?? crop.Guide?.TypicalDays?.High ?? 21;

    private static bool Done(Batch batch, StageKind kind) => batch.Stages.Any(stage => stage.Kind == kind);

    private static LocalDate Date(BatchDay day, Instant at) => at.InZone(day.Zone).Date;

    private static Reminder Make(BatchDay day, ReminderKind kind, LocalDate from, int days, string words) =>
        Make(day, kind, from, from.PlusDays(days), words);

    private static Reminder Make(BatchDay day, ReminderKind kind, LocalDate from, LocalDate to, string words) =>
        new(day.Batch.Id, kind, from, to, words);
}
