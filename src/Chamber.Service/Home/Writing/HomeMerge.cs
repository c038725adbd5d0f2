using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Homes;
using Chamber.Core.Facts.Lots;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using Chamber.Core.Facts.Whole;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Home.Writing;

/// <summary>Another home's spots, probes, lots and batches, to be written down in this one.</summary>
/// <param name="ours">This home.</param>
/// <param name="theirs">The other.</param>
internal sealed class HomeMerge(HomeState ours, HomeState theirs)
{
    private readonly Dictionary<FactSubject, string> called = [];
    private readonly HashSet<FactSubject> same = [];

    /// <summary>Names that both homes have and of which nobody has said yet what to do.</summary>
    public IReadOnlyList<FactSubject> Clashes =>
    [
        .. theirs.Spots.Where(spot => ours.Spot(spot.Id) is not null).Select(spot => FactSubject.Of(spot.Id))
            .Concat(theirs.Probes.Where(entry => ours.Probe(entry.Probe.Id) is not null).Select(entry => FactSubject.Of(entry.Probe.Id)))
            .Concat(theirs.Lots.Where(lot => ours.Lot(lot.Id) is not null).Select(lot => FactSubject.Of(lot.Id)))
            .Concat(theirs.Batches.Where(batch => ours.Batch(batch.Id) is not null).Select(batch => FactSubject.Of(batch.Id)))
            .Where(subject => !called.ContainsKey(subject) && !same.Contains(subject)),
    ];

    /// <summary>Theirs is called otherwise here.</summary>
    /// <exception cref="BadInputException">It was given a name already.</exception>
    public void Call(FactSubject subject, string name)
    {
        if (!called.TryAdd(subject, name))
        {
            throw new BadInputException($"{Choice.Word(subject.Kind)}:{subject} is given two names: give it one.");
        }
    }

    /// <summary>A spot or probe of theirs is the one of that name here.</summary>
    /// <exception cref="BadInputException">A batch or lot cannot be two.</exception>
    public void Same(FactSubject subject)
    {
        if (subject.Kind is not (FactSubjectKind.Spot or FactSubjectKind.Probe))
        {
            throw new BadInputException($"{subject} of the other home is another {Choice.Word(subject.Kind)}: give it a name.");
        }

        same.Add(subject);
    }

    /// <summary>The name that a probe of theirs has here.</summary>
    public ProbeId NameOf(ProbeId probe) => called.TryGetValue(FactSubject.Of(probe), out var name) ? new(name) : probe;

    /// <summary>What makes it part of this home, in one act.</summary>
    public IReadOnlyList<DatedFact> Facts()
    {
        var renamed = called.Aggregate(theirs, (home, pair) => home.Apply(Renaming(pair.Key, pair.Value).At(NodaConstants.UnixEpoch)));
        return [.. StateFacts.Of(renamed).SelectMany(act => act).Where(fact => IsNew(fact.Fact))];
    }

    // What the home has chosen for itself stays as it is here.
    private bool IsNew(Fact fact) => fact switch
    {
        SpotSetUp spot => !same.Contains(FactSubject.Of(spot.Spot)),
        ProbeSetUp probe => !same.Contains(FactSubject.Of(probe.Probe)),
        CropNoted crop => ours.Crops.All(known => known.Crop != crop.Crop),
        LimitsChosen { Spot: { } spot } => !same.Contains(FactSubject.Of(spot)),
        ShownAs shown => !same.Contains(shown.Thing),
        SettingChosen or WorkPlanned => false,
        _ => true,
    };

    private static Fact Renaming(FactSubject subject, string to) => subject.Kind switch
    {
        FactSubjectKind.Spot => new SpotRenamed(new(subject.Name), new SpotId(to)),
        FactSubjectKind.Probe => new ProbeRenamed(new(subject.Name), new ProbeId(to)),
        FactSubjectKind.Lot => new LotRenamed(new(subject.Name), new LotId(to)),
        _ => new BatchRenamed(new(subject.Name), new BatchId(to)),
    };
}
