using System.CommandLine;
using Chamber.Core.Climate;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Writing;
using NodaTime;

namespace Chamber.Service.Commands.Spots;

/// <summary>Which probe was tried, when, and from when on the result counts.</summary>
internal sealed class CalibrationOptions
{
    private readonly Argument<string> probe = new("probe") { Description = "Which probe." };
    private readonly Option<string?> from =
        new("--from") { HelpName = "TIME", Description = "When it began: 21:00 or \"2027-02-01 21:00\"." };
    private readonly Option<string?> to = new("--to") { HelpName = "TIME", Description = "When it ended. Default: now." };
    private readonly Option<string?> since =
        new("--since") { HelpName = "TIME", Description = "Correct readings from this time on. Default: now." };

    public Verb On(Verb verb)
    {
        verb.Add(probe);
        verb.Add(from);
        verb.Add(to);
        verb.Add(since);
        return verb;
    }

    /// <summary>Which probe, when it was tried, and from when on the result counts.</summary>
    public (ProbeId Probe, Interval When, Instant Since) Read(Invocation invocation, CalibrationWay way)
    {
        var end = invocation.TimeOf(invocation.Parse.GetValue(to));
        var start = invocation.Parse.GetValue(from) is { } typed ? invocation.TimeOf(typed) : end - CalibrationRuns.UsualLength(way);
        return start < end
            ? (invocation.CalibrationRuns.Known(invocation.Parse.GetValue(probe)!), new(start, end),
                invocation.TimeOf(invocation.Parse.GetValue(since)))
            : throw new BadInputException("--from must lie before --to.");
    }
}
