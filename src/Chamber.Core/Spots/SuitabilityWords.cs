using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Core.Crops;

namespace Chamber.Core.Spots;

/// <summary>Says in one plain sentence why a spot scores as it does: what costs most comes first.</summary>
public static class SuitabilityWords
{
    private const double GoodShare = 0.8;

    /// <summary>The sentence, temperatures in °C.</summary>
    public static string Because(this RankedSpot ranked) => Because(ranked, temperature => temperature.ToString());

    /// <summary>The sentence.</summary>
    /// <param name="ranked">The line to explain.</param>
    /// <param name="show">Writes a temperature on the reader's scale.</param>
    public static string Because(this RankedSpot ranked, Func<Temperature, string> show)
    {
        var (crop, answer) = (ranked.Crop, ranked.Suitability);
        var why = answer.Confidence <= 0 ? $"Not enough readings to rate it for {crop.CommonName}" : Heart(ranked, show);
        var light = ranked.LacksLight ? $", and it is dark here, but {crop.CommonName} needs light to come up" : "";
        var doubt = answer.Stage switch
        {
            SurveyStage.Provisional when answer.Confidence > 0 => " (provisional: less than 72 h measured)",
            SurveyStage.Stale => " (stale: it has changed since the survey)",
            _ => "",
        };
        return why + light + doubt + ".";
    }

    private static string Heart(RankedSpot ranked, Func<Temperature, string> show)
    {
        var (crop, answer, fastest) = (ranked.Crop, ranked.Suitability, Number(ranked.FastestDays));
        var parts = answer.Parts;
        var stand = parts.BestStandShare > 0 ? parts.StandShare / parts.BestStandShare : 0;
        var days = ranked.DaysToHalf is { } half ? $"half up in about {Number(half)} days" : "none come up";
        if (answer.HarmfulHeat)
        {
            return $"An hour here reached {show(Harm(crop))} or more, which harms {crop.CommonName} seed";
        }

        if (answer.DaysToHalf is null || parts.SpeedShare <= 0)
        {
            return $"It never gets warm enough for {crop.CommonName}, which needs more than {show(crop.Profile.LeastWarm)}";
        }

        if (stand < GoodShare && stand <= parts.SpeedShare)
        {
            return parts.HoursAbove > 0.05
                ? $"{Number(parts.HoursAbove)} h a day above {show(crop.HotLimit)} cost seedlings: about {Percent(parts.StandShare)} come "
                    + $"up instead of {Percent(parts.BestStandShare)}"
                : $"About {Percent(parts.StandShare)} come up at such temperatures instead of {Percent(parts.BestStandShare)}";
        }

        if (parts.SpeedShare < GoodShare)
        {
            return parts.HoursBelow > 0.05
                ? $"{Number(parts.HoursBelow)} h a day below {show(crop.CoolLimit)} slow it down: {days} instead of {fastest}"
                : parts.HoursAbove > 0.05
                    ? $"{Number(parts.HoursAbove)} h a day above {show(crop.HotLimit)} are too warm: {days} instead of {fastest}"
                    : $"Cooler or warmer than its best: {days} instead of {fastest}";
        }

        return $"Near the best for {crop.CommonName}: {days}, and about {Percent(parts.StandShare)} come up";
    }

    private static Temperature Harm(Crop crop) =>
        crop.Profile.Cardinals.Ceiling.Celsius < 40 ? crop.Profile.Cardinals.Ceiling : Temperature.FromCelsius(40);

    private static string Number(double value) => value.ToString(value < 9.95 ? "0.#" : "0", CultureInfo.InvariantCulture);

    private static string Percent(double share) => (100 * share).ToString("0", CultureInfo.InvariantCulture) + " %";
}
