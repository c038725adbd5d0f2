using Chamber.Core.Batches;
using NodaTime;

namespace Chamber.Core.Forecasts;

/// <summary>What was predicted of a milestone and what the looks have proved.</summary>
/// <param name="Batch">Which batch.</param>
/// <param name="Milestone">What was predicted.</param>
/// <param name="Predicted">The prediction, since the sowing.</param>
/// <param name="After">It had not happened by this time since the sowing: the last look without it.</param>
/// <param name="By">It had happened by this time: the first look with it.</param>
/// <param name="ErrorDays">
/// 0 inside the observed interval; otherwise the days from it to the predicted middle: above 0 when the prediction was too late, below when
/// too soon.
/// </param>
/// <param name="Held">The share of the observed interval that lies inside the predicted one, 0 to 1.</param>
public sealed record PredictedActual(
    BatchId Batch, Milestone Milestone, TimeEstimate Predicted, Duration After, Duration By, double ErrorDays, double Held)
{
    /// <summary>Whether the prediction counts as held: at least half of the observed interval lies inside it.</summary>
    public bool DidHold => Held >= 0.5;

    /// <summary>
    /// Compares a prediction with the looks of a batch, or returns null when they don't prove an interval: nothing came up, nothing was
    /// predicted, or the batch is still waited for and half or most of an unknown number can't be told.
    /// </summary>
    public static PredictedActual? Of(Batch batch, Milestone milestone, TimeEstimate predicted)
    {
        var final = batch.Looks.Count == 0 ? 0 : batch.Looks[^1].Up;
        var isOver = batch.IsPastWaiting || final == batch.Seeds;
        if (final == 0 || predicted.Mid is not { } middle || (!isOver && milestone != Milestone.First))
        {
            return null;
        }

        var needed = milestone.Needed(final, 0);
        var before = batch.Looks.LastOrDefault(look => look.Up < needed);
        var after = (before?.At ?? batch.SownAt) - batch.SownAt;
        var by = batch.Looks.First(look => look.Up >= needed).At - batch.SownAt;
        return new(batch.Id, milestone, predicted, after, by, Error(middle, after, by), HeldShare(predicted, after, by));
    }

    private static double Error(Duration middle, Duration after, Duration by)
    {
        if (middle < after)
        {
            return (middle - after).TotalDays;
        }

        return middle > by ? (middle - by).TotalDays : 0;
    }

    private static double HeldShare(TimeEstimate predicted, Duration after, Duration by)
    {
        if (predicted.Low is not { } low)
        {
            return 0;
        }

        var high = predicted.High ?? Duration.MaxValue;
        if (by <= after)
        {
            return by >= low && by <= high ? 1 : 0;
        }

        var inside = Duration.Min(by, high) - Duration.Max(after, low);
        return Math.Max(0, inside / (by - after));
    }
}

/// <summary>How well the predictions of many batches have done.</summary>
/// <param name="Batches">How many were compared.</param>
/// <param name="BiasDays">Mean error: above 0 when predictions are too late.</param>
/// <param name="SpreadDays">Standard deviation of the error; null with a single batch.</param>
/// <param name="MedianErrorDays">Median of the error's size.</param>
/// <param name="Held">How often the 80 % intervals held, 0 to 1; an observed interval that lies partly inside counts in part.</param>
/// <param name="HeldBatches">How many of them held, by <see cref="PredictedActual.DidHold"/>.</param>
public sealed record PredictionScore(int Batches, double BiasDays, double? SpreadDays, double MedianErrorDays, double Held, int HeldBatches)
{
    /// <summary>Fewer comparisons than this prove nothing: of four 80 % intervals all hold in two homes of five. Common practice, no
    /// source.</summary>
    public const int BatchesToJudge = 5;

    /// <summary>The score of some comparisons, or null when there are none.</summary>
    public static PredictionScore? Of(IReadOnlyCollection<PredictedActual> comparisons)
    {
        if (comparisons.Count == 0)
        {
            return null;
        }

        var errors = comparisons.Select(each => each.ErrorDays).ToArray();
        return new(
            errors.Length,
            errors.Average(),
            errors.Length < 2 ? null : MathNet.Numerics.Statistics.Statistics.StandardDeviation(errors),
            MathNet.Numerics.Statistics.Statistics.Median(errors.Select(Math.Abs)),
            comparisons.Average(each => each.Held),
            comparisons.Count(each => each.DidHold));
    }
}
