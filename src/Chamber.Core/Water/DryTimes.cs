using Chamber.Core.Batches;
using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Core.Water;

/// <summary>A time in which seed went on slower for want of water.</summary>
/// <param name="When">The time.</param>
/// <param name="Pace">As a share of its pace in free water, 0 to below 1.</param>
public readonly record struct DryTime(Interval When, double Pace);

/// <summary>When a batch lay dry, as far as anybody felt it or a calibrated media probe measured it.</summary>
public static class DryTimes
{
    /// <summary>Above this pace a probe tells nothing: it is too rough.</summary>
    private const double DampPace = 0.9;

    /// <summary>
    /// A look that says dry ends a time that began, as far as anybody knows, half way from when it was last known to be damp (sown,
    /// wetted, or a look that says moist or wet), or later, while a probe still measured it damp; it lasts until it is wetted, or a look
    /// says otherwise. At other times a probe counts by what it says.
    /// </summary>
    /// <param name="batch">The batch.</param>
    /// <param name="water">The base water potential of its crop.</param>
    /// <param name="until">What still lasts ends here.</param>
    /// <param name="measured">What probes in its media said, in order of time; none by default.</param>
    /// <returns>In order of time, without overlap.</returns>
    public static IReadOnlyList<DryTime> Of(Batch batch, BaseWater water, Instant until, IReadOnlyList<DampStep>? measured = null)
    {
        ArgumentNullException.ThrowIfNull(batch);
        var isTowel = batch.Method == SowingMethod.DampTowel;
        var probed = (measured ?? []).Where(step => step.When.End <= until)
            .Select(step => new DryTime(step.When, Math.Round(MediaWater.Pace(step.Percent, isTowel, water), 1))).ToList();
        var felt = Felt(batch, water, until, probed.Where(step => step.Pace > DampPace / 2).Select(step => step.When.End).ToList());
        var rest = probed.Where(step => step.Pace < DampPace && !felt.Any(dry => dry.When.Start < step.When.End
            && dry.When.End > step.When.Start));
        return [.. felt.Concat(Joined(rest)).OrderBy(dry => dry.When.Start)];
    }

    private static List<DryTime> Felt(Batch batch, BaseWater water, Instant until, List<Instant> measuredDamp)
    {
        var marks = batch.Looks.Where(look => look.Moisture is not null)
            .Select(look => (look.At, IsDry: look.Moisture == LookMoisture.Dry))
            .Concat(batch.Wettings.Select(at => (At: at, IsDry: false)))
            .Where(mark => mark.At <= until)
            .OrderBy(mark => mark.At).ThenBy(mark => !mark.IsDry);
        List<DryTime> dry = [];
        var (damp, since) = (batch.SownAt, (Instant?)null);
        foreach (var (at, isDry) in marks)
        {
            if (isDry)
            {
                since ??= Instant.Max(damp + (at - damp) / 2,
                    measuredDamp.LastOrDefault(known => known <= at, damp));
                continue;
            }

            Add(since, at);
            (damp, since) = (at, null);
        }

        Add(since, until);
        return dry;

        void Add(Instant? from, Instant to)
        {
            if (from is { } start && to > start)
            {
                dry.Add(new(new(start, to), Hydrothermal.Pace(WaterPotential.Dry, water.Megapascals)));
            }
        }
    }

    /// <summary>Neighbours of one pace as one.</summary>
    private static List<DryTime> Joined(IEnumerable<DryTime> times)
    {
        List<DryTime> joined = [];
        foreach (var time in times)
        {
            if (joined is [.., var last] && last.When.End == time.When.Start && last.Pace == time.Pace)
            {
                joined[^1] = last with { When = new(last.When.Start, time.When.End) };
            }
            else
            {
                joined.Add(time);
            }
        }

        return joined;
    }
}
