using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Facts.Probes;

/// <summary>A probe was set up, or is otherwise than it was: what is left out stays, and a new probe measures air, is silent for 2 h at
/// most, and is no thermometer that somebody reads.</summary>
/// <param name="Probe">Its name, also its topic level.</param>
/// <param name="Measures">What it measures the temperature of.</param>
/// <param name="MaxGap">Silence longer than this is a gap.</param>
/// <param name="HandRead">Whether somebody reads it: its silence is nobody's fault.</param>
/// <param name="Note">What else is known.</param>
public sealed record ProbeSetUp(
    ProbeId Probe, Measurand? Measures = null, Duration? MaxGap = null, bool? HandRead = null, string? Note = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Probe)];

    public override string Words(ShownNames names) =>
        FactWords.Line($"probe {names.Of(Probe)} set up", Measures is { } what ? $"measures {FactWords.Word(what)}" : null, HandRead == true
            ? "somebody reads it" : null, Note);

    internal override void Apply(HomeFold home, Instant at)
    {
        var old = home.Probes.GetValueOrDefault(Probe);
        var probe = new Probe(
            Probe, Measures ?? old?.Probe.Measurand ?? Measurand.Air, MaxGap ?? old?.Probe.MaxGap ?? Climate.Probe.DefaultMaxGap);
        FactRefusedException.When(WithinBounds.WhyNot(probe), "maxGap");
        FactRefusedException.When(Bounds.Note.WhyNot(Note), "note");
        home.Probes[Probe] = new(probe, HandRead ?? old?.HandRead ?? false, Note ?? old?.Note);
    }
}
