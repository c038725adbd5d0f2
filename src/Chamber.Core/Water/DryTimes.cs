using Chamber.Core.Batches;
using NodaTime;

namespace Chamber.Core.Water;

/// <summary>When a batch lay dry, as far as anybody felt it.</summary>
public static class DryTimes
{
    /// <summary>
    /// A look that says dry ends a time that began, as far as anybody knows, half way from when it was last known to be damp (sown,
    /// wetted, or a look that says moist or wet); it lasts until it is wetted, or a look says otherwise.
    /// </summary>
    /// <param name="batch">The batch.</param>
    /// <param name="until">What still lasts ends here.</param>
    public static IReadOnlyList<Interval> Of(Batch batch, Instant until)
    {
        ArgumentNullException.ThrowIfNull(batch);
        var marks = batch.Looks.Where(look => look.Moisture is not null)
            .Select(look => (look.At, IsDry: look.Moisture == LookMoisture.Dry))
            .Concat(batch.Wettings.Select(at => (At: at, IsDry: false)))
            .Where(mark => mark.At <= until)
            .OrderBy(mark => mark.At).ThenBy(mark => !mark.IsDry);
        List<Interval> dry = [];
        var (damp, since) = (batch.SownAt, (Instant?)null);
        foreach (var (at, isDry) in marks)
        {
            if (isDry)
            {
                since ??= damp + (at - damp) / 2;
                continue;
            }

            if (since is { } start && at > start)
            {
                dry.Add(new(start, at));
            }

            (damp, since) = (at, null);
        }

        if (since is { } open && until > open)
        {
            dry.Add(new(open, until));
        }

        return dry;
    }
}
