using Chamber.Core.Batches;
using Chamber.Core.Spots;

namespace Chamber.Service.Home;

/// <summary>A move to the light names the bright spot that a batch is on from then on: without it the watch would go on in the
/// dark.</summary>
internal sealed class ToTheLight(HomeReader home, Batch batch)
{
    /// <summary>The spots with light.</summary>
    public static IReadOnlyList<Spot> Bright(HomeReader home) => [.. home.Spots().Where(spot => spot.Light == LightLevel.Bright)];

    /// <summary>Where a batch goes by a stage; null when it stays where it is.</summary>
    /// <param name="stage">What was done.</param>
    /// <param name="named">The spot that somebody named, or null.</param>
    /// <exception cref="BadInputException">The spot is missing, not bright, or none of the home's.</exception>
    public SpotId? SpotFor(Stage stage, string? named)
    {
        if (stage.Kind != StageKind.MovedToLight)
        {
            return named is null ? null : throw BadInputException.In("spot",
                "Only moved-to-light names a spot; for any other move: chamber move.");
        }

        var here = batch.Stays is [.., { When.HasEnd: false } stay] ? home.Spots().FirstOrDefault(spot => spot.Id == stay.Spot) : null;
        if (named is null)
        {
            return here?.Light == LightLevel.Bright || IsPart(stage) ? null : throw BadInputException.In("spot", Ask(here));
        }

        var to = BadInputException.In("spot", () => home.RequireSpot(named));
        return to.Light != LightLevel.Bright
            ? throw BadInputException.In("spot", $"{to.Id} is {Choice.Word(to.Light)}: seedlings want a bright spot. {Names()}")
            : to.Id == here?.Id ? null : to.Id;
    }

    // Some were moved, and the batch itself stays with the rest.
    private bool IsPart(Stage stage) => stage.Plants is { } plants && plants < (batch.Looks is [.., var last] ? last.Up : 0);

    private string Ask(Spot? here) =>
        $"Where to? {batch.Id} stands {(here is null ? "nowhere" : $"on {here.Id}, which is {Choice.Word(here.Light)}")}. {Names()}";

    private string Names() => Bright(home) is { Count: > 0 } bright
        ? $"Name a bright spot: {string.Join(", ", bright.Select(spot => spot.Id))}."
        : "No spot is bright yet; add one: chamber spot add sill --kind sill --light bright";
}
