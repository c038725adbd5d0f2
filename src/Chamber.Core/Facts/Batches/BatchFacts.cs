using Chamber.Core.Batches;

namespace Chamber.Core.Facts.Batches;

/// <summary>The facts that a whole batch is made of: for those that come in with all that was seen and done already.</summary>
public static class BatchFacts
{
    /// <summary>In an order in which each can be written down after the one before.</summary>
    public static IReadOnlyList<DatedFact> Of(Batch batch)
    {
        ArgumentNullException.ThrowIfNull(batch);
        var (id, stays) = (batch.Id, StaysUntilEnd(batch));
        var isChain = stays.Count > 0 && stays[0].When.HasStart && stays[0].When.Start == batch.SownAt
            && stays.Zip(stays.Skip(1)).All(pair => pair.First.When.HasEnd && pair.First.When.End == pair.Second.When.Start)
            && !stays[^1].When.HasEnd;
        List<DatedFact> facts =
        [
            new BatchSown(
                id, batch.Crop, batch.Method, batch.Seeds, batch.Lot, isChain ? stays[0].Spot : null, batch.Containers, batch.IsTest,
                batch.Treatment, batch.DepthMillimetres).At(batch.SownAt),
        ];
        facts.AddRange(batch.Looks.Select(look => new BatchLooked(id, look.Up, look.Note, look.Moisture).At(look.At)));
        facts.AddRange(isChain ? MovesAndStages(batch, stays.Skip(1)) : StaysAndStages(batch, stays));
        facts.AddRange(batch.Losses.Select(loss => new PlantsLost(id, loss.Plants, loss.Cause, loss.Note).At(loss.At)));
        facts.AddRange(batch.Photos.Select(photo => new PhotoTaken(id, photo.Name, photo.Note).At(photo.At)));
        facts.AddRange(batch.Photos.Where(photo => photo.Marks.Count > 0)
            .Select(photo => new PhotoMarked(id, photo.Name, photo.Marks).At(photo.At)));
        facts.AddRange(batch.Wettings.Select(at => new BatchWetted(id).At(at)));
        if (batch.PlantOut is { } day)
        {
            facts.Add(new PlantingOutPlanned(id, day).At(batch.SownAt));
        }

        if (batch.EndedAt is { } ended)
        {
            facts.Add(new BatchEnded(id).At(ended));
        }

        return facts;
    }

    // The end of the batch ends its last stay: whoever takes the end back has it going on.
    private static List<Stay> StaysUntilEnd(Batch batch) =>
        [.. batch.Stays.Select(stay => stay.When.HasEnd && stay.When.End == batch.EndedAt ? stay with { When = new(stay.When.Start,
            null) } : stay)];

    // A move to the light names the spot, so that whoever takes it back has the batch where it stood.
    private static IEnumerable<DatedFact> MovesAndStages(Batch batch, IEnumerable<Stay> moves)
    {
        var left = moves.ToList();
        var facts = new List<DatedFact>();
        foreach (var stage in batch.Stages)
        {
            var with = stage.Kind == StageKind.MovedToLight ? left.Find(stay => stay.When.Start == stage.At) : null;
            left.RemoveAll(stay => ReferenceEquals(stay, with));
            facts.Add(new StageDone(batch.Id, stage.Kind, stage.Plants, stage.Note, with?.Spot).At(stage.At));
        }

        facts.AddRange(left.Select(stay => new BatchMoved(batch.Id, stay.Spot).At(stay.When.Start)));
        return facts.OrderBy(fact => fact.At);
    }

    private static IEnumerable<DatedFact> StaysAndStages(Batch batch, IEnumerable<Stay> stays) =>
        stays.Where(stay => stay.When.HasStart)
            .Select(stay => new BatchStood(batch.Id, stay.Spot, stay.When.HasEnd ? stay.When.End : null).At(stay.When.Start))
            .Concat(batch.Stages.Select(stage => new StageDone(batch.Id, stage.Kind, stage.Plants, stage.Note).At(stage.At)));
}
