using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Home.Writing;

/// <summary>Work on a spot or in the whole home, while which only danger is reported: the same for the command line, the page and the
/// API.</summary>
internal sealed class HomeMaintenance(HomeReader home, Instant now)
{
    /// <summary>What is under way, in order of its start.</summary>
    public static IReadOnlyList<WorkAnswer> UnderWay(HomeLedger home, Instant now) =>
        [.. home.Work.Where(work => work.When.End > now).Select(work => new WorkAnswer(work.Spot?.Text, work.When.Start, work.When.End))];

    /// <summary>Somebody works from now on; what was under way there ends.</summary>
    /// <param name="spot">On which spot; null for the whole home.</param>
    /// <param name="length">How long: 1 s to 7 days.</param>
    /// <exception cref="BadInputException">There is no such spot, or it takes too long; nothing was written.</exception>
    public void Begin(string? spot, Duration length)
    {
        var id = Known(spot);
        BadInputException.In("for", () => Core.Bounds.Maintenance.Require(length));
        home.Writing(now).Alerts.Work(id, new(now, now + length));
    }

    /// <summary>The work is done: alerts come as usual.</summary>
    /// <exception cref="BadInputException">Nobody works there.</exception>
    public void End(string? spot)
    {
        if (!home.Writing(now).Alerts.EndWork(Known(spot), now))
        {
            throw BadInputException.Contradicts($"Nothing is under way on {spot ?? "home"}.");
        }
    }

    private SpotId? Known(string? spot) => spot is null ? null : BadInputException.In("spot", () => home.RequireSpot(spot)).Id;
}

/// <summary>Work under way.</summary>
/// <param name="Spot">Where; null for the whole home.</param>
/// <param name="From">Since when.</param>
/// <param name="Until">Until when only danger is reported.</param>
internal sealed record WorkAnswer(string? Spot, Instant From, Instant Until);
