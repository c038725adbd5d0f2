using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Facts.Whole;

/// <summary>People see a spot, probe or batch by a name of any letters; its own name stays, in topics, addresses and commands.</summary>
/// <param name="Thing">A spot, probe or batch.</param>
/// <param name="Name">How it is shown, 1 to 60 characters on one line; null for its own name.</param>
public sealed record ShownAs(FactSubject Thing, string? Name = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [Thing];

    public override string Words(ShownNames names) => Name is null ? $"{Thing} shown by its own name" : $"{Thing} shown as \"{Name}\"";

    internal override void Apply(HomeFold home, Instant at)
    {
        Require(home);
        if (Name is null)
        {
            home.Settings.Remove(ShownNames.KeyOf(Thing));
            return;
        }

        FactRefusedException.When(Bounds.ShownName.WhyNot(Name), "shown");
        FactRefusedException.When(string.IsNullOrWhiteSpace(Name), $"A name to show is not blank: leave it out for its own name.", "shown");
        FactRefusedException.When(Name.Any(char.IsControl), $"A name to show is one line of text: leave out breaks and tabs.", "shown");
        home.Settings[ShownNames.KeyOf(Thing)] = Name;
    }

    private void Require(HomeFold home)
    {
        switch (Thing.Kind)
        {
            case FactSubjectKind.Spot:
                home.Require(new SpotId(Thing.Name));
                break;
            case FactSubjectKind.Probe:
                home.Require(new ProbeId(Thing.Name));
                break;
            case FactSubjectKind.Batch:
                home.Require(new BatchId(Thing.Name));
                break;
            default:
                FactRefusedException.When(true, $"Only a spot, a probe or a batch has a name to show.", "kind");
                break;
        }
    }
}
