using NodaTime;

namespace Chamber.Core.Facts.Alerts;

/// <summary>Somebody has seen the alert that was open.</summary>
/// <param name="Condition">Which condition, by its name.</param>
/// <param name="Subject">What the alert is about.</param>
/// <param name="By">Who has seen it.</param>
public sealed record AlertSeen(string Condition, FactSubject Subject, string By) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [Subject];

    public override string Words(ShownNames names) => $"{FactWords.Spelled(Condition)} of {names.Of(Subject)} seen by {By}";

    internal override void Apply(HomeFold home, Instant at)
    {
        FactRefusedException.When(Bounds.PersonName.WhyNot(By), "by");
        home.AlertMarks.Add(new(Condition, Subject, at, By, null));
    }
}

/// <summary>No notices are wanted of the alert that was open.</summary>
/// <param name="Condition">Which condition, by its name.</param>
/// <param name="Subject">What the alert is about.</param>
/// <param name="Until">Until when; null lifts that.</param>
public sealed record AlertMuted(string Condition, FactSubject Subject, Instant? Until = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [Subject];

    public override string Words(ShownNames names) =>
        Until is null ? $"{FactWords.Spelled(Condition)} of {names.Of(Subject)} no longer quiet"
            : $"{FactWords.Spelled(Condition)} of {names.Of(Subject)} kept quiet";

    internal override void Apply(HomeFold home, Instant at) => home.AlertMarks.Add(new(Condition, Subject, at, null, Until));
}
