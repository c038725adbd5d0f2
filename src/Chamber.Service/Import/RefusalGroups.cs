using Chamber.Core.Climate;

namespace Chamber.Service.Import;

/// <summary>Refusals of one kind: told once, however many lines there are.</summary>
/// <param name="Quantity">What is refused; null for the line as a whole.</param>
/// <param name="Reason">Why.</param>
/// <param name="Lines">How many lines.</param>
/// <param name="FirstLine">The first of them.</param>
/// <param name="Raw">What stands there.</param>
/// <param name="Fix">What to do about it.</param>
internal sealed record RefusalGroup(string? Quantity, RefusalReason Reason, long Lines, long FirstLine, string Raw, string Fix);

/// <summary>Counts the refusals of a file by what is refused and why. As many as there are kinds, so that memory is bounded.</summary>
internal sealed class RefusalGroups
{
    private readonly Dictionary<(string?, RefusalReason), RefusalGroup> groups = [];

    /// <summary>The most frequent first.</summary>
    public IReadOnlyList<RefusalGroup> All => [.. groups.Values.OrderByDescending(group => group.Lines).ThenBy(group => group.FirstLine)];

    public void Add(long line, Refusal refusal)
    {
        var key = (refusal.Quantity, refusal.Reason);
        groups[key] = groups.TryGetValue(key, out var known) ? known with { Lines = known.Lines + 1 }
            : new(refusal.Quantity, refusal.Reason, 1, line, refusal.Raw, refusal.Fix);
    }
}
