using System.CommandLine;
using Chamber.Core.Climate;
using Chamber.Service.Home;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Commands;

/// <summary>Which probe was tried, when, and from when on the result counts.</summary>
internal sealed class TrialOptions
{
    private readonly Argument<string> probe = new("probe") { Description = "Which probe." };
    private readonly Option<string?> from = new("--from") { HelpName = "TIME", Description = "Since when it was so: 21:00 or \"2027-02-01 21:00\"." };
    private readonly Option<string?> to = new("--to") { HelpName = "TIME", Description = "Until when. Now unless told." };
    private readonly Option<string?> since = new("--since") { HelpName = "TIME", Description = "Readings from then on are corrected. From now on unless told." };

    public Verb On(Verb verb)
    {
        verb.Add(probe);
        verb.Add(from);
        verb.Add(to);
        verb.Add(since);
        return verb;
    }

    public (ProbeId Probe, Interval When) Read(Invocation invocation, Duration usual)
    {
        var end = invocation.TimeOf(invocation.Parse.GetValue(to));
        var start = invocation.Parse.GetValue(from) is { } typed ? invocation.TimeOf(typed) : end - usual;
        return start < end
            ? (Known(invocation, invocation.Parse.GetValue(probe)!), new(start, end))
            : throw new BadInputException("--from must lie before --to.");
    }

    /// <summary>Writes down what was found; what was known of the probe before goes on to count.</summary>
    /// <param name="invocation">The run of the verb.</param>
    /// <param name="id">Which probe.</param>
    /// <param name="change">What was found.</param>
    /// <param name="spread">The noise of raw moisture, where that was tried.</param>
    public Calibration Keep(Invocation invocation, ProbeId id, Func<Calibration, Calibration> change, double spread = 0)
    {
        var at = invocation.TimeOf(invocation.Parse.GetValue(since));
        var kept = change(new HomeCalibrations(invocation.Store).At(id, at) is { } before ? before with { From = at, Note = null } : new Calibration(id, at, default));
        if (kept is { DryRaw: { } dry, SaturatedRaw: { } saturated } && MoistureTrial.Fault(dry, saturated, spread) is { } fault)
        {
            throw new BadInputException(fault);
        }

        invocation.Store.Ledger.Places.Save(kept);
        return kept;
    }

    /// <exception cref="BadInputException">Nobody has heard of it; the message names those that are known.</exception>
    public static ProbeId Known(Invocation invocation, string name)
    {
        var all = invocation.Store.Journal.Probes().Concat(invocation.Store.Ledger.Places.Probes().Select(entry => entry.Probe.Id)).Distinct().ToList();
        return all.Where(known => known.Text == name).Select(known => (ProbeId?)known).FirstOrDefault()
            ?? throw new BadInputException(all.Count == 0 ? "No probe has spoken yet." : $"There is no probe \"{name}\"; there are {string.Join(", ", all.Select(known => known.Text).Order(StringComparer.Ordinal))}.");
    }
}
