using Chamber.Core.Batches;
using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Core.Simulation;

/// <summary>What happens in the shared flat in one minute.</summary>
/// <param name="At">The end of the minute.</param>
/// <param name="Said">What the probes say; each carries its own time, up to a minute later.</param>
/// <param name="Looks">The looks that the flatmate takes.</param>
public sealed record FlatMinute(Instant At, IReadOnlyList<ProbeSaid> Said, IReadOnlyList<(BatchId Batch, Look Look)> Looks);

/// <summary>
/// The whole invented scenario, minute by minute: the home, its probes, and the batches that somebody sowed and looks at.
/// It begins <see cref="History"/> before it opens to the viewer, and goes on for ever. Not thread-safe.
/// </summary>
public sealed class FlatStory
{
    /// <summary>How much has happened before the viewer comes in.</summary>
    public static readonly Duration History = Duration.FromDays(14);

    private readonly SimulatedHome home;
    private readonly List<SimulatedProbe> probes;
    private readonly List<(SimulatedBatchDesign Design, SimulatedBatch Batch)> batches;

    /// <param name="opens">When the viewer comes in.</param>
    /// <param name="zone">The flat's time zone.</param>
    /// <param name="seed">The same seed tells the same story, to the last digit.</param>
    /// <param name="crops">Knows the crops of <see cref="SharedFlat.Batches"/>.</param>
    /// <exception cref="UnknownCropException">It doesn't.</exception>
    public FlatStory(Instant opens, DateTimeZone zone, int seed, CropCatalog crops)
    {
        Begins = opens - History;
        home = new(Begins, zone, seed);
        probes = [.. SharedFlat.Probes.Select((design, i) => new SimulatedProbe(design, Begins, new Random(seed + 100 + i)))];
        batches = [.. SharedFlat.Batches.Select(
            (design, i) => (design, new SimulatedBatch(design, crops.Require(design.Crop.Text), opens, zone, new Random(seed + 200 + i))))];
    }

    /// <summary>The first instant of the story.</summary>
    public Instant Begins { get; }

    /// <summary>The home, for who wants to know what is really so.</summary>
    public SimulatedHome Home => home;

    /// <summary>Lets a minute pass.</summary>
    public FlatMinute Next()
    {
        home.Step();
        List<ProbeSaid> said = [];
        foreach (var probe in probes)
        {
            if (probe.Step(home) is { } words)
            {
                said.Add(words);
            }
        }

        List<(BatchId, Look)> looks = [];
        foreach (var (design, batch) in batches)
        {
            if (batch.Step(home) is { } look)
            {
                looks.Add((design.Id, look));
            }
        }

        return new(home.Now, said, looks);
    }
}
