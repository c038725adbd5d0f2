using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Facts.Spots;

/// <summary>A spot was set up, or is otherwise than it was: what is left out stays, and of a new spot is a dim shelf with room for
/// one.</summary>
/// <param name="Spot">Its name.</param>
/// <param name="Kind">What sort of spot it is.</param>
/// <param name="Light">How much light a container gets there.</param>
/// <param name="Room">How many containers fit; at least 1.</param>
public sealed record SpotSetUp(SpotId Spot, SpotKind? Kind = null, LightLevel? Light = null, int? Room = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Spot)];

    public override string Words(ShownNames names) =>
        FactWords.Line($"spot {names.Of(Spot)} set up", FactWords.Word(Kind), FactWords.Word(Light),
            Room is { } room ? $"room for {room}" : null);

    internal override void Apply(HomeFold home, Instant at)
    {
        var old = home.Spots.GetValueOrDefault(Spot);
        var spot = new Spot(
            Spot, Kind ?? old?.Kind ?? SpotKind.Shelf, Light ?? old?.Light ?? LightLevel.Dim, Room ?? old?.Room ?? 1);
        FactRefusedException.When(WithinBounds.WhyNot(spot), "room");
        home.Spots[Spot] = spot;
    }
}
