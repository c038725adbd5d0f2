using System.Globalization;
using Chamber.Core.Forecasts.BeforeSowing;

namespace Chamber.Service.Home;

/// <summary>What the days of an answer rest on: the tables, or what this home's batches have taught.</summary>
internal static class KnowledgeWords
{
    /// <summary>In one sentence.</summary>
    /// <param name="question">What was asked, of this home.</param>
    public static string Of(CropQuestion question)
    {
        if (question.Home.Batches == 0)
        {
            return question.Home.Others is not { } others ? "Days are those of the tables: no batch of yours has taught anything yet."
                : $"As the batches of {CountText.Of(others.Homes, "other home")} have taught, {question.Crop.CommonName} {Taught(question)}. "
                    + "More: chamber learned";
        }

        return $"As {CountText.Of(question.Home.Batches, "batch has", "batches have")} taught, {question.Crop.CommonName} "
            + $"{Taught(question)}. More: chamber learned";
    }

    private static string Taught(CropQuestion question)
    {
        var change = (int)Math.Round(100 * (question.Pace - 1), MidpointRounding.AwayFromZero);
        return change == 0 ? "takes as long here as in the tables" : string.Create(CultureInfo.InvariantCulture,
            $"takes {Math.Abs(change)} % {(change > 0 ? "longer" : "less time")} here than in the tables");
    }
}
