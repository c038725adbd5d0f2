using Chamber.Core.Cautions;

namespace Chamber.Service.Home.Watching;

/// <summary>
/// The cautions of alerts that are shown under one another: each in full the first time and in one line after that, so that they keep
/// being read. Of an alert that is over, or that somebody has seen or quieted, each stands in one line.
/// </summary>
internal sealed class CautionsOnce
{
    private readonly HashSet<string> told = [];

    /// <summary>Of the next alert.</summary>
    public IReadOnlyList<ShownCaution> Of(AlertAnswer alert)
    {
        var isNew = alert is { ClosedAt: null, SeenBy: null, MutedUntil: null };
        return [.. alert.Shown.Select(shown => shown with { InFull = isNew && shown.InFull && told.Add(shown.Caution.Name) })];
    }
}
