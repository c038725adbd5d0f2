using Chamber.Core;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Homes;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Home.Writing;

/// <summary>What people record of a batch, or of all that stands on a spot, without counting: notes, watering, limits of alerts. The same
/// for the command line, the page and the API.</summary>
/// <remarks>Every method throws <see cref="BadInputException"/> or <see cref="RefusedException"/>, and then nothing was written.</remarks>
internal sealed class HomeUpkeep(HomeReader home, Instant now)
{
    /// <summary>The batch of a name, otherwise the spot.</summary>
    public FactSubject Find(string name)
    {
        var names = home.Ledger.Batches.Select(batch => FactSubject.Of(batch.Id))
            .Concat(home.Spots().Select(spot => FactSubject.Of(spot.Id))).ToList();
        FactSubject? found = names.Where(one => one.Name == name)
            .Concat(names.Where(one => string.Equals(one.Name, name, StringComparison.OrdinalIgnoreCase)))
            .Select(one => (FactSubject?)one).FirstOrDefault();
        return found ?? throw BadInputException.Unknown(
            $"There is no batch or spot \"{name}\".{NearNames.Question(name, names.Select(one => one.Name))}",
            "All of them: chamber batches   and: chamber spots");
    }

    /// <summary>Keeps a note.</summary>
    public Note Note(FactSubject about, NoteRequest said)
    {
        var at = home.PastOf(said.At, now);
        var text = string.IsNullOrWhiteSpace(said.Text)
            ? throw BadInputException.In("text", "A note has a text: write what you saw or did.")
            : BadInputException.In("text", () => Bounds.Note.Require(said.Text.Trim()))!;
        home.Writing(now).Write(new Noted(text, BatchOf(about), SpotOf(about)).At(at));
        return new(about, at, text);
    }

    /// <summary>Records that a batch was watered, or everything that stands on a spot.</summary>
    /// <returns>What was watered.</returns>
    public (IReadOnlyList<BatchId> Batches, Instant At) Water(FactSubject about, MomentRequest when)
    {
        var at = home.PastOf(when.At, now);
        IReadOnlyList<BatchId> batches = BatchOf(about) is { } one ? [one]
            : [.. home.Ledger.Batches.Where(batch => Stood(batch, new(about.Name), at)).Select(batch => batch.Id)];
        if (batches.Count == 0)
        {
            throw BadInputException.Contradicts($"Nothing stood on {about} at {TimeText.Show(at, home.Zone, now)}.");
        }

        home.Writing(now).Write([.. batches.Select(batch => new BatchWetted(batch).At(at))]);
        return (batches, at);
    }

    /// <summary>Sets limits of alerts, both; one that is null is the crop's again.</summary>
    public OwnLimits Limit(FactSubject about, LimitsRequest asked)
    {
        var (hot, cold) = (Celsius("tooHot", asked.TooHot), Celsius("tooCold", asked.TooCold));
        home.Writing(now).Write(new LimitsChosen(hot, cold, BatchOf(about), SpotOf(about)).At(now));
        return new(about, hot, cold);
    }

    private static bool Stood(Batch batch, SpotId spot, Instant at) =>
        at >= batch.SownAt && !(at > batch.EndedAt) && batch.Stays.Any(stay => stay.Spot == spot && stay.When.Contains(at));

    private static BatchId? BatchOf(FactSubject about) => about.Kind == FactSubjectKind.Batch ? new(about.Name) : null;

    private static SpotId? SpotOf(FactSubject about) => about.Kind == FactSubjectKind.Spot ? new(about.Name) : null;

    private static double? Celsius(string field, string? typed) => string.IsNullOrWhiteSpace(typed) ? null
        : BadInputException.In(field, () => Bounds.LimitCelsius.Require(TemperatureText.Parse(typed).Celsius));
}
