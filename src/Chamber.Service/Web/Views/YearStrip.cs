using Chamber.Core.Batches;
using Chamber.Core.Plans;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>A batch or a plan on the strip of the year, from sowing to planting out.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Href">Its page; null for a plan.</param>
/// <param name="Sow">When it was, or is to be, sown.</param>
/// <param name="Up">When half are, or would be, up; null when nobody can say.</param>
/// <param name="Out">When it is, or could be, planted out; null when nobody can say.</param>
/// <param name="Pots">How many pots it needs in the light from then until planted out.</param>
/// <param name="Containers">What it takes of the warm spots until it is up.</param>
/// <param name="Words">The same in words, one for each day.</param>
/// <param name="PlanRow">Which row of the season's plan it is; null for a batch.</param>
internal sealed record StripBar(string Name, string? Href, LocalDate Sow, LocalDate? Up, LocalDate? Out, int Pots, int Containers,
    IReadOnlyList<string> Words, int? PlanRow)
{
    /// <summary>What comes before the last of its days, to be followed by it.</summary>
    public string Before => string.Concat(Words.SkipLast(1).Select(words => $"{words}, "));
}

/// <summary>A week under the strip: what stands on the warm spots and in the light.</summary>
internal sealed record StripWeek(LocalDate Monday, int OnSpots, int InTheLight);

/// <summary>All batches and plans on one strip, with the room on spots and in the light under it.</summary>
/// <param name="From">Its first day, a Monday.</param>
/// <param name="To">The day after its last.</param>
/// <param name="Bars">What was sown first stands first.</param>
/// <param name="Weeks">Week by week.</param>
/// <param name="SpotRoom">How many containers fit on the spots.</param>
/// <param name="LightRoom">How many pots fit in the light, by the plan.</param>
internal sealed record YearStrip(LocalDate From, LocalDate To, IReadOnlyList<StripBar> Bars, IReadOnlyList<StripWeek> Weeks, int SpotRoom,
    int LightRoom)
{
    private const int WeeksMin = 12;
    private const int WeeksMax = 60;

    public int Days => Period.DaysBetween(From, To);

    /// <summary>Weeks in which more stands in the light than there is room for.</summary>
    public int WeeksTooFull => Weeks.Count(week => week.InTheLight > LightRoom);

    /// <param name="home">The home.</param>
    /// <param name="today">Today; what ended long before is left out.</param>
    /// <param name="sheet">The season's plan.</param>
    /// <param name="shifts">By how many days the sowing of a row of the plan is moved; a row that is not named is not.</param>
    public static YearStrip Of(HomeReader home, LocalDate today, PlanSheet sheet, IReadOnlyDictionary<int, int> shifts)
    {
        var views = new BatchViews(home, home.Now);
        var first = new LocalDate(today.Year, 1, 1);
        var batches = home.Ledger.Batches.Where(batch => !batch.IsTest)
            .Where(batch => batch.EndedAt is not { } ended || ended.InZone(home.Zone).Date >= first);
        var bars = batches.Select(batch => Of(home, views.Of(batch), today)).Concat(Plans(home, sheet, shifts, today))
            .OrderBy(bar => bar.Sow).ThenBy(bar => bar.Name, StringComparer.Ordinal).ToList();
        var from = Monday(bars.Select(bar => bar.Sow).Append(today).Min());
        var end = bars.Select(bar => bar.Out ?? bar.Up ?? bar.Sow).Append(from.PlusWeeks(WeeksMin)).Max();
        var to = LocalDate.Min(Monday(end).PlusWeeks(1), from.PlusWeeks(WeeksMax));
        var weeks = new List<StripWeek>();
        for (var monday = from; monday < to; monday = monday.PlusWeeks(1))
        {
            weeks.Add(Week(bars, monday));
        }

        return new(from, to, bars, weeks, home.Spots().Sum(spot => spot.Room), sheet.LightRoom);
    }

    private static StripBar Of(HomeReader home, BatchView view, LocalDate today)
    {
        var (batch, sown) = (view.Batch, view.Batch.SownAt.InZone(home.Zone).Date);
        var seen = FirstSeen.Of(batch).By;
        var up = seen ?? (view.Forecast?.Half.Mid is { } half ? batch.SownAt + half : null);
        var upOn = up?.InZone(home.Zone).Date;
        var done = batch.Stages.FirstOrDefault(stage => stage.Kind == StageKind.PlantedOut)?.At ?? batch.EndedAt;
        var outOn = done?.InZone(home.Zone).Date ?? batch.PlantOut ?? Ready(upOn, view.Crop?.Guide?.WeeksToPlantOut?.Low);
        var pots = seen is null ? (int)Math.Round((view.Forecast?.Stand.Mid ?? 0) * batch.Seeds) : BatchRules.Alive(batch);
        var words = Words(sown, upOn, outOn, today);
        return new(view.Title, $"batches/{batch.Id.Text}", sown, upOn, outOn, pots, batch.Containers, words, null);
    }

    private static IEnumerable<StripBar> Plans(HomeReader home, PlanSheet sheet, IReadOnlyDictionary<int, int> shifts, LocalDate today)
    {
        if (sheet.LastFrost is not { } day)
        {
            yield break;
        }

        var frost = new LastFrost(LocalDate.FromDateOnly(day), 0.5);
        var chosen = home.Spots().FirstOrDefault(spot => spot.Id.Text == sheet.Spot);
        for (var i = 0; i < sheet.Rows.Count; i++)
        {
            var row = sheet.Rows[i];
            if (row.Crop.Length > 0 && home.Catalog.Find(row.Crop) is { } crop
                && Dates(home, new(crop, row.Plants), frost, chosen) is { Dates: { } dates } known)
            {
                var by = shifts.GetValueOrDefault(i);
                var sow = dates.Aim.PlusDays(by);
                var up = sow.PlusDays((int)Math.Round(known.Up.Mid));
                var outOn = LocalDate.Max(dates.PlantOutFrom, Ready(up, crop.Guide?.WeeksToPlantOut?.Low) ?? dates.PlantOutFrom);
                yield return new($"{row.Plants} {crop.CommonName}", null, sow, up, outOn, row.Plants, 1, Words(sow, up, outOn, today), i);
            }
        }
    }

    // A crop that would not come up there has no dates; the plan itself says so.
    private static CropDates? Dates(HomeReader home, Wanted wanted, LastFrost frost, Core.Spots.Spot? chosen)
    {
        try
        {
            return CropDates.Of(home, home.Now, wanted, frost, chosen, []);
        }
        catch (BadInputException)
        {
            return null;
        }
    }

    private static LocalDate? Ready(LocalDate? up, int? weeks) => up is { } day && weeks is { } some ? day.PlusWeeks(some) : null;

    // Weekday and year stand in the strip.
    private static string Day(LocalDate day) => day.ToString("d MMM", System.Globalization.CultureInfo.InvariantCulture);

    private static string[] Words(LocalDate sow, LocalDate? up, LocalDate? outOn, LocalDate today) => [.. new[]
    {
        $"{(sow > today ? "sow" : "sown")} {Day(sow)}",
        up is { } half ? $"up {Day(half)}" : null,
        outOn is { } day ? $"out {Day(day)}" : null,
    }.OfType<string>()];

    private static StripWeek Week(List<StripBar> bars, LocalDate monday)
    {
        var sunday = monday.PlusDays(6);
        return new(
            monday,
            bars.Where(bar => bar.Sow <= sunday && (bar.Up ?? bar.Sow.PlusWeeks(2)) >= monday).Sum(bar => bar.Containers),
            bars.Where(bar => bar.Up is { } up && up <= sunday && (bar.Out ?? up.PlusWeeks(8)) > monday).Sum(bar => bar.Pots));
    }

    private static LocalDate Monday(LocalDate day) => day.With(DateAdjusters.PreviousOrSame(IsoDayOfWeek.Monday));
}
