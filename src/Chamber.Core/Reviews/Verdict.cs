using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Climate;

namespace Chamber.Core.Reviews;

/// <summary>Whose doing it was.</summary>
public enum Blame
{
    /// <summary>It went as well as could be expected.</summary>
    Nobody,
    Seed,
    Spot,
    Water,

    /// <summary>Something the grower did or left undone.</summary>
    Grower,

    /// <summary>Too little is known.</summary>
    CannotSay,

    /// <summary>It isn't over.</summary>
    StillOpen,
}

/// <summary>Was it the seed, the spot, the water, or me?</summary>
/// <param name="Blame">The answer.</param>
/// <param name="Sentence">The answer in one sentence with the number that decides it.</param>
/// <param name="NextTime">What to do differently; empty when nothing.</param>
public sealed record Verdict(Blame Blame, string Sentence, string NextTime = "")
{
    /// <summary>As few as this or fewer would come up in one of ten such batches: then there is something to explain.</summary>
    private const double FewChance = 0.1;

    /// <summary>Above this share of unknown hours nobody can say.</summary>
    private const double UnknownShareMax = 0.3;

    private const double HotHoursMax = 6;
    private const double CoolShareMax = 1.0 / 3;
    private const double WeakLot = 0.6;
    private const double StandShareMin = 0.85;

    public static Verdict On(BatchFacts facts)
    {
        ArgumentNullException.ThrowIfNull(facts);
        var few = IsFew(facts);
        var late = IsLate(facts);
        if (!facts.IsOver && !late && facts.Losses.Count == 0)
        {
            if (WasHot(facts))
            {
                return TooHot(facts, $"{Up(facts)} so far");
            }

            return new(Blame.StillOpen, $"{Up(facts)} so far; nothing is late.");
        }

        if (few && facts.IsOver)
        {
            return OnFew(facts);
        }

        return late ? OnLate(facts) : OnLosses(facts) ?? OnSuccess(facts);
    }

    /// <summary>Whether so few came up that the lot, as believed for a fresh start at its best temperature, does not explain it.</summary>
    private static bool IsFew(BatchFacts facts) =>
        1 - facts.Lot.ChanceOfAtLeast(facts.Count.Up + 1, facts.Count.Seeds) < FewChance
        || (facts.Count.Share < 0.5 && facts.Count.Seeds >= 4);

    private static Verdict TooHot(BatchFacts facts, string seen) => new(
        Blame.Spot,
        $"The spot is too hot: {seen}, with {Hours(facts.Hours.HoursAbove)} above {facts.Scale.Show(facts.Crop.HotLimit)}, which leaves {Percent(facts.StandShare)} of those that could come up.",
        "Choose a cooler spot, or raise the box off the heat.");

    private static bool WasHot(BatchFacts facts) => facts.Hours.HoursAbove > HotHoursMax && facts.StandShare < StandShareMin;

    private static bool IsLate(BatchFacts facts) =>
        facts.ForecastDays is { } days && facts.SeenDays.After > days.High;

    private static Verdict OnFew(BatchFacts facts)
    {
        if (WasHot(facts))
        {
            return new(Blame.Spot, $"The spot was too hot: {Up(facts)} after {Hours(facts.Hours.HoursAbove)} above {facts.Scale.Show(facts.Crop.HotLimit)}.", "Choose a cooler spot, or raise the box off the heat.");
        }

        if (facts.Water != WaterTrouble.None)
        {
            return new(Blame.Water, $"It was the water: {Up(facts)}, and it was {Trouble(facts.Water)}.", "Wring towels until nothing drips; keep mix as damp as a wrung sponge.");
        }

        if (facts.WrongLight)
        {
            return new(Blame.Grower, $"{facts.Crop.CommonName} wants light to come up and stood without: {Up(facts)}.", "Press the seed on, leave it uncovered, and give it a bright spot.");
        }

        if (facts.LotTested && facts.Lot.Mean < WeakLot)
        {
            return new(Blame.Seed, $"It was the seed: {Up(facts)}, and this lot was expected to give {Percent(facts.Lot.Mean)}.", "Sow more of this lot, or buy fresh.");
        }

        if (UnknownShare(facts) > UnknownShareMax)
        {
            return new(Blame.CannotSay, $"Nobody can say: {Up(facts)}, and {Percent(UnknownShare(facts))} of the time nothing was measured.", "Keep a probe at the seed from sowing until it is up.");
        }

        return OnFewInGoodPlace(facts);
    }

    private static Verdict OnFewInGoodPlace(BatchFacts facts)
    {
        if (CoolShare(facts) > CoolShareMax)
        {
            return new(Blame.Spot, $"The spot was too cold: {Up(facts)}, with {Hours(facts.Hours.HoursBelow)} of {Hours(facts.Hours.MeasuredHours)} below {facts.Scale.Show(facts.Crop.CoolLimit)}.", "Choose a warmer spot or give it a lid.");
        }

        if (facts.PastLife || !facts.LotTested)
        {
            return new(Blame.Seed, $"Most likely the seed: {Up(facts)} on a spot that was right, from a lot {(facts.PastLife ? "past its life" : "never tested")}.", "Test twenty of this lot on a towel before relying on it.");
        }

        return facts.Treated
            ? new(Blame.CannotSay, $"Spot and seed were right, and still {Up(facts)}; the seed is treated, which can hold it back.", "Compare with untreated seed.")
            : new(Blame.Grower, $"Spot and seed were right, and still {Up(facts)}: sown too deep, or a coat that wanted soaking or cold first.", "Sow two to three times as deep as the seed is thick; see what the crop wants before sowing.");
    }

    private static Verdict OnLate(BatchFacts facts)
    {
        var seen = facts.SeenDays.By is { } by
            ? string.Create(CultureInfo.InvariantCulture, $"first up between day {facts.SeenDays.After:0.#} and {by:0.#}")
            : string.Create(CultureInfo.InvariantCulture, $"nothing up by day {facts.SeenDays.After:0.#}");
        var forecast = string.Create(CultureInfo.InvariantCulture, $"forecast day {facts.ForecastDays!.Value.Low:0.#} to {facts.ForecastDays.Value.High:0.#}");
        if (UnknownShare(facts) > UnknownShareMax)
        {
            return new(Blame.CannotSay, $"Late, and nobody can say why: {seen} ({forecast}), with {Percent(UnknownShare(facts))} of the time not measured.", "Keep a probe at the seed.");
        }

        if (WasHot(facts))
        {
            return TooHot(facts, $"{seen} ({forecast})");
        }

        if (CoolShare(facts) > CoolShareMax)
        {
            return new(Blame.Spot, $"The spot was too cold: {seen} ({forecast}), with {Hours(facts.Hours.HoursBelow)} below {facts.Scale.Show(facts.Crop.CoolLimit)}.", "Choose a warmer spot or give it a lid.");
        }

        return facts.PastLife
            ? new(Blame.Seed, $"Old seed is slow seed: {seen} ({forecast}) on a spot that was warm enough.", "Allow more days for this lot.")
            : new(Blame.CannotSay, $"Later than forecast on a spot that was warm enough: {seen} ({forecast}).", "The next forecast for this crop learns from it.");
    }

    private static Verdict? OnLosses(BatchFacts facts)
    {
        var lost = facts.Losses.Where(loss => loss.Cause != LossCause.Thinned).Sum(loss => loss.Plants);
        if (facts.Count.Up > 0 && lost * 4 >= facts.Count.Up)
        {
            var worst = facts.Losses.Where(loss => loss.Cause != LossCause.Thinned).GroupBy(loss => loss.Cause).MaxBy(group => group.Sum(loss => loss.Plants))!.Key;
            return worst switch
            {
                LossCause.DampingOff or LossCause.Mould => new(Blame.Water, $"It came up well ({Up(facts)}) and lost {lost} to {(worst == LossCause.Mould ? "mould" : "damping-off")}: too wet or too still after emergence.", "Lid off the day it is up, water from below, let the top dry, move the air."),
                LossCause.DriedOut => new(Blame.Water, $"It came up well ({Up(facts)}) and lost {lost} to drying out.", "Look every day; a deeper box dries slower."),
                LossCause.Leggy => new(Blame.Grower, $"It came up well ({Up(facts)}) and lost {lost} for want of light, after {Hours(facts.WarmDarkHours)} warm and dark.", "Into the light the day the first is up."),
                LossCause.Cold or LossCause.Heat => new(Blame.Spot, $"It came up well ({Up(facts)}) and lost {lost} to {(worst == LossCause.Cold ? "cold" : "heat")} afterwards.", "Grow on where it is mild and bright."),
                _ => new(Blame.CannotSay, $"It came up well ({Up(facts)}) and lost {lost} afterwards.", "Write down what they were lost to."),
            };
        }

        return facts.WarmDarkHours > WarmDark.Harmful.TotalHours
            ? new(Blame.Grower, $"It came up well ({Up(facts)}), then stood {Hours(facts.WarmDarkHours)} warm and dark.", "Into the light the day the first is up.")
            : null;
    }

    private static Verdict OnSuccess(BatchFacts facts) =>
        new(Blame.Nobody, $"It went well: {Up(facts)}, {Percent(facts.Lot.Mean * facts.StandShare)} were expected.");

    private static string Up(BatchFacts facts) => $"{facts.Count.Up} of {facts.Count.Seeds} up";

    private static string Trouble(WaterTrouble trouble) => trouble switch
    {
        WaterTrouble.TooWet => "too wet",
        WaterTrouble.DriedOut => "drying out",
        _ => "mouldy",
    };

    private static double UnknownShare(BatchFacts facts) =>
        facts.Hours.UnknownHours <= 0 ? 0 : facts.Hours.UnknownHours / (facts.Hours.UnknownHours + facts.Hours.MeasuredHours);

    private static double CoolShare(BatchFacts facts) =>
        facts.Hours.MeasuredHours <= 0 ? 0 : facts.Hours.HoursBelow / facts.Hours.MeasuredHours;

    private static string Hours(double hours) => string.Create(CultureInfo.InvariantCulture, $"{hours:0} h");

    private static string Percent(double share) => string.Create(CultureInfo.InvariantCulture, $"{share * 100:0} %");
}
