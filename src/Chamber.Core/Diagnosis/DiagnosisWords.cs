using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Water;

namespace Chamber.Core.Diagnosis;

/// <summary>Diagnoses in words: the one place for review, season, alert, forecast, page and answers to programs.</summary>
public static partial class DiagnosisWords
{
    /// <summary>The answer in one sentence, with the number that decides it.</summary>
    public static string Sentence(BatchCase known, Cause cause)
    {
        ArgumentNullException.ThrowIfNull(known);
        ArgumentNullException.ThrowIfNull(cause);
        var seen = Seen(known);
        return cause switch
        {
            AllUp => known.Count.Seeds == 1 ? "The one seed is up." : $"All {known.Count.Seeds} are up.",
            NotLooked looked =>
                $"Nobody has looked{(looked.Ever ? "" : " yet")} for {DaysOf(looked.Days)}: {Up(known)} at last sight, and more may be.",
            TooHot hot => Place(known, hot.Still, "too hot", seen, HotWith(known, hot)),
            Unsteady swings => Place(known, swings.Still, "too cold and too hot by turns", seen, SwingsWith(known, swings)),
            TooCold cold => Place(known, cold.Still, "too cold", seen, ColdWith(known, cold)),
            Mouldy => Water(known, seen, "mouldy"),
            TooWet => Water(known, seen, "too wet"),
            DriedOut => Water(known, seen, "drying out") + DryOdds(known.Dry),
            WrongLight =>
                $"{Capital(known.Crop.CommonName)} wants light to come up and {(known.IsOver ? "stood" : "stands")} without: {seen}.",
            NotChilled chill => string.Create(CultureInfo.InvariantCulture,
                $"{Capital(known.Crop.CommonName)} wants {chill.Wanted} days of moist chill first and has had {Math.Floor(chill.Days):0}: ")
                    + $"{seen}, and about {Percent(chill.Share)} of sound seed can come up so.",
            WeakLot weak => $"{(known.IsOver ? "It was the seed" : "The seed is doubtful")}: {seen}, and this lot was expected to give "
                + $"{Percent(weak.Expected)}.",
            NotMeasured unknown => $"Nobody can say: {seen}, and {Percent(unknown.UnknownShare)} of the time nothing was measured.",
            OldSeed when CauseOrder.IsLate(known) && known.Count.Up > 0 => $"Old seed is slow seed: {seen} on a spot that was warm enough.",
            OldSeed => $"Most likely the seed: {seen} on a spot that was right, from a lot past its life.",
            UntestedLot => $"Most likely the seed: {seen} on a spot that was right, from a lot never tested.",
            TreatedSeed => $"Spot and seed were right, and still {seen}; the seed is treated, which can hold it back.",
            SownWrong => $"Spot and seed were right, and still {seen}: sown too deep, or a coat that wanted soaking or cold first.",
            LostAfter lost => $"It came up ({Up(known)}) and {(known.IsOver ? "" : "has ")}lost {lost.Plants} to {LostTo(lost, known)}.",
            WarmAndDark dark =>
                $"It came up ({Up(known)}), {(known.IsOver || !dark.Still ? "then" : "and has since")} stood {Hours(dark.Hours)} warm and dark.",
            Late when CauseOrder.IsLate(known) => $"Later than forecast on a spot that was warm enough: {seen}.",
            Late => $"Spot and seed were right, as far as is known, and still {seen}.",
            NotYet => $"{Up(known)} so far; nothing is late.",
            WentWell => $"It went well: {Up(known)}, {Percent(known.Expected)} were expected.",
            _ => throw new ArgumentOutOfRangeException(nameof(cause), cause, "No such cause."),
        };
    }

    /// <summary>The loss and its parts: <c>about 14 of 16: 11 to heat, 3 to the seed itself</c>; null when nothing is lost.</summary>
    public static string? Of(LossAccount loss)
    {
        ArgumentNullException.ThrowIfNull(loss);
        var whole = Whole(loss);
        return whole.Count == 0 ? null
            : $"{whole.Sum(part => part.Seeds)} of {loss.Sown}: {string.Join(", ", whole.Select(part => $"{part.Seeds} {To(part.Kind)}"))}";
    }

    /// <summary>The parts in whole seeds, which add up to the whole loss: what is left over by rounding goes to the largest
    /// remainders.</summary>
    private static List<(LossKind Kind, int Seeds)> Whole(LossAccount loss)
    {
        var total = (int)Math.Round(loss.Seeds, MidpointRounding.AwayFromZero);
        var floors = loss.Parts.Select(
            part => (part.Kind, Seeds: (int)Math.Floor(part.Seeds), Fraction: part.Seeds - Math.Floor(part.Seeds))).ToList();
        var more = total - floors.Sum(part => part.Seeds);
        var raised = floors.Select((part, i) => (part.Fraction, i)).OrderByDescending(part => part.Fraction).Take(more)
            .Select(part => part.i).ToHashSet();
        return [.. floors.Select((part, i) => (part.Kind, part.Seeds + (raised.Contains(i) ? 1 : 0))).Where(part => part.Item2 > 0)];
    }

    private static string To(LossKind kind) => kind switch
    {
        LossKind.Seed => "to the seed itself",
        LossKind.Heat => "to heat",
        LossKind.Cold => "to cold",
        LossKind.Swings => "to swings of temperature",
        LossKind.Water => "to water",
        LossKind.Light => "for want of light",
        LossKind.Chill => "for want of a moist chill",
        LossKind.AfterUp => "after coming up",
        _ => "to no known cause",
    };

    private static string Place(BatchCase known, bool still, string how, string seen, string with) =>
        $"The spot {(still && !known.IsOver ? "is" : "was")} {how}: {seen}{with}.";

    private static string HotWith(BatchCase known, TooHot hot) => hot.HoursAbove <= CauseOrder.HotHoursMax
        ? $", and at its usual heat {Percent(hot.ShareLeft)} of those that could come up do"
        : $", with {Hours(hot.HoursAbove)} above {known.Scale.Show(known.Crop.HotLimit)}, which leaves {Percent(hot.ShareLeft)} of those "
            + $"that could come up";

    private static string SwingsWith(BatchCase known, Unsteady swings) =>
        $", with {Hours(swings.HoursBelow)} below {known.Scale.Show(known.Crop.CoolLimit)} and {Hours(swings.HoursAbove)} above "
            + $"{known.Scale.Show(known.Crop.HotLimit)}";

    private static string ColdWith(BatchCase known, TooCold cold) => cold.HoursBelow < 1
        ? $", and most of its usual day lies below {known.Scale.Show(known.Crop.CoolLimit)}"
        : $", with {Hours(cold.HoursBelow)} of {Hours(cold.MeasuredHours)} below {known.Scale.Show(known.Crop.CoolLimit)}";

    private static string Water(BatchCase known, string seen, string how) =>
        known.IsOver ? $"It was the water: {seen}, and it was {how}." : $"It is {how}: {seen}.";

    private static string DryOdds(DryOrOld? dry) => dry is null ? ""
        : dry.TimesAsLikely >= 1
            ? string.Create(CultureInfo.InvariantCulture,
                $" That explains the count {Times(dry.TimesAsLikely)} as well as a dead or weak lot does.")
            : string.Create(CultureInfo.InvariantCulture,
                $" A dead or weak lot explains the count {Times(1 / dry.TimesAsLikely)} as well as that does: sound seed would stand at "
                    + $"{dry.UpIfDry:0}.");

    private static string Times(double times) => times >= 100 ? "more than 100 times" : times < 1.5 ? "about"
        : string.Create(CultureInfo.InvariantCulture, $"{times:0} times");

    private static string LostTo(LostAfter lost, BatchCase known) => lost.To switch
    {
        LossCause.Mould => "mould: too wet or too still after coming up",
        LossCause.DampingOff => "damping-off: too wet or too still after coming up",
        LossCause.DriedOut => "drying out",
        LossCause.Leggy => $"want of light, after {Hours(known.WarmDarkHours)} warm and dark",
        LossCause.Cold => "cold afterwards",
        LossCause.Heat => "heat afterwards",
        LossCause.Eaten => "slugs, mice or insects",
        LossCause.Handling => "broken roots or stems",
        _ => "no recorded cause",
    };

    /// <summary>What was seen, and beside it the forecast where it is late.</summary>
    private static string Seen(BatchCase known)
    {
        if (CauseOrder.IsLate(known) && known.ForecastDays is { } days)
        {
            var forecast = string.Create(CultureInfo.InvariantCulture, $"forecast day {days.Low:0.#} to {days.High:0.#}");
            return known.SeenDays.By is { } by
                ? string.Create(CultureInfo.InvariantCulture,
                    $"{Up(known)}, the first between day {known.SeenDays.After:0.#} and {by:0.#} ({forecast})")
                : string.Create(CultureInfo.InvariantCulture, $"nothing up by day {known.SeenDays.After:0.#} ({forecast})");
        }

        return known.IsOver ? Up(known) : $"{Up(known)} so far";
    }

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];

    private static string Up(BatchCase known) => $"{known.Count.Up} of {known.Count.Seeds} up";

    private static string DaysOf(double days) => days < 1.5 ? "a day" : string.Create(CultureInfo.InvariantCulture, $"{days:0} days");

    private static string Hours(double hours) => string.Create(CultureInfo.InvariantCulture, $"{hours:0} h");

    private static string Percent(double share) => string.Create(CultureInfo.InvariantCulture, $"{share * 100:0} %");
}
