using Chamber.Core.Seeds;
using NodaTime;

namespace Chamber.Core.Facts.Lots;

/// <summary>A lot has another name from now on; all that was written down under the former one is its own.</summary>
/// <param name="From">Its name until now.</param>
/// <param name="To">Its name from now on; free until now.</param>
public sealed record LotRenamed(LotId From, LotId To) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(To)];

    public override string Words(ShownNames names) => $"lot {From} is called {To}";

    internal override void Apply(HomeFold home, Instant at)
    {
        home.Require(From);
        HomeFold.RequireFree(FactSubject.Of(To), home.Lots.ContainsKey(To));
        HomeFold.Rename(home.Lots, From, To, lot => lot with { Id = To });
        HomeFold.Rename(home.Tests, From, To, tests => [.. tests.Select(test => test with { Lot = To })]);
        foreach (var child in home.Lots.Values.Where(lot => lot.Parent == From).ToList())
        {
            home.Lots[child.Id] = child with { Parent = To };
        }

        foreach (var batch in home.Batches.Values.Where(batch => batch.Lot == From).ToList())
        {
            home.Batches[batch.Id] = batch with { Lot = To };
        }

        home.Rename(FactSubject.Of(From), FactSubject.Of(To));
    }
}
