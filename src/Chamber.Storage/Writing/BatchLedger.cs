using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Storage.Writing;

/// <summary>Batches and everything that was seen of them and done to them.</summary>
public sealed class BatchLedger
{
    private readonly HomePen pen;

    internal BatchLedger(HomePen pen) => this.pen = pen;

    /// <summary>Every batch, or only those that have not ended, in order of sowing.</summary>
    public IReadOnlyList<Batch> All(bool open = false) => [.. pen.Home.Batches.Where(batch => !open || batch.EndedAt is null)];

    public Batch? Find(BatchId id) => pen.Home.Batch(id);

    /// <summary>A free name that is short enough for a stick: the crop's first letter and the smallest free number.</summary>
    public BatchId FreeId(CropId crop)
    {
        var letter = char.ToUpperInvariant(crop.Text[0]);
        var taken = pen.Home.Batches.Select(batch => batch.Id.Text).ToHashSet(StringComparer.OrdinalIgnoreCase);
        var number = 1;
        while (taken.Contains($"{letter}{number}"))
        {
            number++;
        }

        return new BatchId($"{letter}{number}");
    }

    /// <summary>Writes down a sowing, with whatever stays, looks and stages it has already.</summary>
    public void Sow(Batch batch) => pen.Write(BatchFacts.Of(batch));

    /// <summary>Puts a batch on a spot from a time on. Where it stood before ends then.</summary>
    public void Move(BatchId id, SpotId spot, Instant at) => pen.Write(new BatchMoved(id, spot).At(at));

    /// <summary>Writes down a look. The count may only grow from look to look; plants that were lost are recorded as losses.</summary>
    public void Record(BatchId id, Look look)
    {
        ArgumentNullException.ThrowIfNull(look);
        pen.Write(new BatchLooked(id, look.Up, look.Note, look.Moisture).At(look.At));
    }

    /// <summary>Records what was done, and in one with it that the batch is on another spot from then on.</summary>
    /// <param name="id">The batch.</param>
    /// <param name="stage">What was done.</param>
    /// <param name="to">Where it stands now; null where it stood.</param>
    public void Record(BatchId id, Stage stage, SpotId? to = null)
    {
        ArgumentNullException.ThrowIfNull(stage);
        pen.Write(new StageDone(id, stage.Kind, stage.Plants, stage.Note, to).At(stage.At));
    }

    /// <summary>Writes down plants that were lost.</summary>
    public void Record(BatchId id, Loss loss)
    {
        ArgumentNullException.ThrowIfNull(loss);
        pen.Write(new PlantsLost(id, loss.Plants, loss.Cause, loss.Note).At(loss.At));
    }

    /// <summary>Writes down that a photo was taken.</summary>
    public void Record(BatchId id, BatchPhoto photo)
    {
        ArgumentNullException.ThrowIfNull(photo);
        pen.Write(new PhotoTaken(id, photo.Name, photo.Note).At(photo.At));
    }

    /// <summary>Writes down where the seedlings are on a photo: they are the count of that time.</summary>
    public void Mark(BatchId id, string photo, PhotoMarks marks) => pen.Write(new PhotoMarked(id, photo, marks).At(pen.Now));

    /// <summary>Takes a photo out of the record, and the count that was made on it.</summary>
    public void RemovePhoto(BatchId id, string photo) => pen.WithdrawEach(FactSubject.Of(id),
        fact => fact.Fact is PhotoTaken taken ? taken.Photo == photo : fact.Fact is PhotoMarked marked && marked.Photo == photo,
        new($"{id} has no photo \"{photo}\"."));

    /// <summary>Writes down that it was wetted again.</summary>
    public void Wet(BatchId id, Instant at) => pen.Write(new BatchWetted(id).At(at));

    /// <summary>Says when it is to be planted out.</summary>
    /// <param name="id">The batch.</param>
    /// <param name="day">The day in the home's zone; not before the sowing.</param>
    /// <param name="zone">The home's zone.</param>
    public void PlantOut(BatchId id, LocalDate day, DateTimeZone zone) => pen.Write(home =>
    {
        if (home.Batch(id) is { } batch)
        {
            BatchRules.ToPlantOut(batch, day, zone);
        }

        return [new PlantingOutPlanned(id, day).At(pen.Now)];
    });

    /// <summary>Planted out, potted up or given up: nothing is watched after that.</summary>
    public void End(BatchId id, Instant at) => pen.Write(new BatchEnded(id).At(at));

    /// <summary>Takes back that it ended; its last stay goes on.</summary>
    public void Reopen(BatchId id) =>
        pen.Withdraw(FactSubject.Of(id), fact => fact.Fact is BatchEnded, new($"Batch \"{id}\" has not ended."));

    /// <summary>Takes a look out of the record: it was a mistake.</summary>
    public void RemoveLook(BatchId id, Instant at) =>
        pen.Withdraw(FactSubject.Of(id), fact => fact.Fact is BatchLooked && fact.At == Cut(at),
            new($"Batch \"{id}\" has no look at {at}."));

    /// <summary>Takes a stage out of the record: it was a mistake. A move to the light that was recorded with it is taken back
    /// too.</summary>
    public void RemoveStage(BatchId id, Instant at) =>
        pen.Withdraw(FactSubject.Of(id), fact => fact.Fact is StageDone && fact.At == Cut(at),
            new($"Batch \"{id}\" has no stage at {at}."));

    /// <summary>Takes a loss out of the record: it was a mistake.</summary>
    public void RemoveLoss(BatchId id, Instant at) =>
        pen.Withdraw(FactSubject.Of(id), fact => fact.Fact is PlantsLost && fact.At == Cut(at),
            new($"Batch \"{id}\" has no loss at {at}."));

    /// <summary>Takes a whole batch out of the record: it was never sown.</summary>
    public void Remove(BatchId id) => pen.WithdrawAll(FactSubject.Of(id));

    // Facts are kept to the millisecond.
    private static Instant Cut(Instant at) => Instant.FromUnixTimeMilliseconds(at.ToUnixTimeMilliseconds());
}
