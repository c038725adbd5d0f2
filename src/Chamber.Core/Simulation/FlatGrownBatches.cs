using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Simulation;

/// <summary>
/// What was sown in the shared flat weeks before its readings begin and is far on: marigolds in pots, kale that stands out by day. Told
/// and not simulated, since nobody measured then; the recording of the flat is without them.
/// </summary>
public static class FlatGrownBatches
{
    private static readonly SpotId SunnySill = new("sunny-sill");

    /// <summary>The batches as the flatmate wrote them down.</summary>
    /// <param name="opens">When the viewer comes in.</param>
    public static IReadOnlyList<Batch> Of(Instant opens)
    {
        return
        [
            Grown("K1", "kale", 18, 38, [(33.5, 0), (32.4, 3), (31.5, 9), (30.5, 15)]) with
            {
                Stages = [Done(StageKind.Uncovered, 31.5), Done(StageKind.MovedToLight, 32.4, 3), Done(StageKind.PrickedOut, 21.5, 14),
                    Done(StageKind.HardeningOff, 3.3, 13)],
                Losses = [new(opens - Duration.FromDays(27), 1, LossCause.DampingOff),
                    new(opens - Duration.FromDays(9), 1, LossCause.Eaten)],
            },
            Grown("M1", "marigold", 16, 29, [(22.5, 0), (21.4, 1), (20.5, 5), (19.4, 10), (18.4, 13)]) with
            {
                Stages = [Done(StageKind.Uncovered, 20.5), Done(StageKind.MovedToLight, 21.4, 1), Done(StageKind.PrickedOut, 5.4, 12)],
                Losses = [new(opens - Duration.FromDays(5.4), 1, LossCause.Leggy)],
            },
        ];

        Batch Grown(string id, string crop, int seeds, double sown, (double Before, int Up)[] looks) => new(
            new(id), new(crop), null, SowingMethod.CoveredMix, opens - Duration.FromDays(sown), seeds,
            [new(SunnySill, new(opens - Duration.FromDays(sown), null))],
            [.. looks.Select(look => new Look(opens - Duration.FromDays(look.Before), look.Up))]);

        Stage Done(StageKind kind, double before, int? plants = null) => new(kind, opens - Duration.FromDays(before), plants);
    }

    /// <summary>When they are to go out, counted from when the viewer comes in.</summary>
    public static IReadOnlyList<(BatchId Batch, int Days)> PlantingOut { get; } = [(new("K1"), 5), (new("M1"), 44)];
}
