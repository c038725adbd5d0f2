using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Facts.Probes;

/// <summary>Readings of a probe are not to be used, from a moment on: they are kept, and no answer uses them.</summary>
/// <param name="Probe">Which probe.</param>
/// <param name="Until">Until when, not including that moment.</param>
/// <param name="Why">Why, or null.</param>
public sealed record ReadingsSetAside(ProbeId Probe, Instant Until, string? Why = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Probe)];

    public override string Words(ShownNames names) => FactWords.Line($"readings of probe {names.Of(Probe)} set aside", Why);

    internal override void Apply(HomeFold home, Instant at)
    {
        home.Require(Probe);
        FactRefusedException.When(Until <= at, $"The readings that are set aside end before they begin.", "until");
        FactRefusedException.When(WithinBounds.WhyNot(new Interval(at, Until)), "at");
        FactRefusedException.When(Bounds.Note.WhyNot(Why), "why");
        HomeFold.Add(home.SetAside, Probe, new SetAside(Probe, new(at, Until), Why), one => one.When.Start);
    }
}
