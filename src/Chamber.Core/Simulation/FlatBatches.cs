using Chamber.Core.Batches;
using NodaTime;

namespace Chamber.Core.Simulation;

/// <summary>The batches of the simulated flat as the flatmate wrote them down.</summary>
public static class FlatBatches
{
    /// <summary>A batch of a design, with what was seen of it.</summary>
    /// <param name="design">How it was sown, and what was done to it.</param>
    /// <param name="opens">When the viewer comes in.</param>
    /// <param name="looks">The looks at it, in order of time.</param>
    public static Batch Of(SimulatedBatchDesign design, Instant opens, IReadOnlyList<Look> looks)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(looks);
        var sown = opens - design.Sown;
        var ended = opens - design.Ended;
        var moved = opens - design.Moved?.Before;
        IReadOnlyList<Stay> stays = moved is { } at
            ? [new(design.Spot, new(sown, at)), new(design.Moved!.Value.Spot, new(at, ended))]
            : [new(design.Spot, new(sown, ended))];
        return new(design.Id, design.Crop, design.Lot, design.Method, sown, design.Seeds, stays, looks, ended)
        {
            Stages = [.. design.Stages.Select(stage => new Stage(
                stage.Kind, opens - stage.Before, AtMost(stage.Plants, looks, opens - stage.Before)))],
            Losses = [.. design.Lost.Select(loss => new Loss(opens - loss.Before, loss.Plants, loss.Cause))],
        };
    }

    // What had come up by then depends on the weather of the flat and on the hour at which the demo opens.
    private static int? AtMost(int? planned, IReadOnlyList<Look> looks, Instant at) =>
        planned is { } plants && looks.Where(look => look.At <= at).Select(look => look.Up).LastOrDefault() is > 0 and var up
            ? Math.Min(plants, up) : null;
}
