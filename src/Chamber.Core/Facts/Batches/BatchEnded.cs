using Chamber.Core.Batches;
using NodaTime;

namespace Chamber.Core.Facts.Batches;

/// <summary>A batch was planted out, potted up or given up: nothing is watched after that.</summary>
/// <param name="Batch">Which batch.</param>
public sealed record BatchEnded(BatchId Batch) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Batch)];

    public override string Words(ShownNames names) => $"{names.Of(Batch)} ended";

    internal override void Apply(HomeFold home, Instant at)
    {
        FactRefusedException.When(WithinBounds.WhyNot(at), "at");
        home.Batches[Batch] = BatchStays.Ended(home.Require(Batch), at);
    }
}

/// <summary>Somebody plans when a batch is to be planted out; reminders count back from it.</summary>
/// <param name="Batch">Which batch.</param>
/// <param name="Day">The day, in the home's zone.</param>
public sealed record PlantingOutPlanned(BatchId Batch, LocalDate Day) : Fact
{
    // The home's zone is a setting and not a fact: only a day that is before the sowing everywhere on earth is refused.
    private static readonly DateTimeZone Westernmost = DateTimeZone.ForOffset(Offset.FromHours(-12));

    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Batch)];

    public override string Words(ShownNames names) => $"{names.Of(Batch)} to be planted out on {FactWords.On(Day)}";

    internal override void Apply(HomeFold home, Instant at)
    {
        FactRefusedException.When(Bounds.Year.WhyNot(Day.Year), "day");
        home.Batches[Batch] = BatchRules.ToPlantOut(home.Require(Batch), Day, Westernmost);
    }
}

/// <summary>A batch has another name from now on; all that was written down under the former one is its own.</summary>
/// <param name="From">Its name until now.</param>
/// <param name="To">Its name from now on; free until now.</param>
public sealed record BatchRenamed(BatchId From, BatchId To) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(To)];

    public override string Words(ShownNames names) => $"{From} is called {To}";

    internal override void Apply(HomeFold home, Instant at)
    {
        home.Require(From);
        HomeFold.RequireFree(FactSubject.Of(To), home.Batches.ContainsKey(To));
        HomeFold.Rename(home.Batches, From, To, batch => batch with { Id = To });
        foreach (var (lot, tests) in home.Tests.Where(pair => pair.Value.Any(test => test.Batch == From)).ToList())
        {
            home.Tests[lot] = [.. tests.Select(test => test.Batch == From ? test with { Batch = To } : test)];
        }

        home.Rename(FactSubject.Of(From), FactSubject.Of(To));
    }
}
