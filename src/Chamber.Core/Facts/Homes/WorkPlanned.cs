using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Facts.Homes;

/// <summary>Somebody works on a spot, or on the home: until then silence is excused there, and only danger is reported.</summary>
/// <param name="Until">Until when.</param>
/// <param name="Spot">Which spot; null for the whole home.</param>
public sealed record WorkPlanned(Instant Until, SpotId? Spot = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [Spot is { } spot ? FactSubject.Of(spot) : FactSubject.Home];

    public override string Words(ShownNames names) => $"work on {(Spot is { } spot ? names.Of(spot) : "the home")}";

    internal override void Apply(HomeFold home, Instant at)
    {
        FactRefusedException.When(Until <= at, $"Maintenance has a start and an end after it.", "until");
        FactRefusedException.When(WithinBounds.WhyNot(at) ?? Bounds.Maintenance.WhyNot(Until - at), "until");
        if (Spot is { } spot)
        {
            home.Require(spot);
        }

        home.Work.Add(new(Spot, new(at, Until)));
    }
}

/// <summary>The work on a spot, or on the home, is over.</summary>
/// <param name="Spot">Which spot; null for the whole home.</param>
public sealed record WorkEnded(SpotId? Spot = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [Spot is { } spot ? FactSubject.Of(spot) : FactSubject.Home];

    public override string Words(ShownNames names) => $"work on {(Spot is { } spot ? names.Of(spot) : "the home")} over";

    internal override void Apply(HomeFold home, Instant at)
    {
        home.Work.RemoveAll(work => work.Spot == Spot && work.When.Start >= at);
        for (var i = 0; i < home.Work.Count; i++)
        {
            var work = home.Work[i];
            home.Work[i] = work.Spot == Spot && work.When.End > at ? work with { When = new(work.When.Start, at) } : work;
        }
    }
}
