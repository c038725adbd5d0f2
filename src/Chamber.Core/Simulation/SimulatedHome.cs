using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Simulation;

/// <summary>
/// A home with warm spots that obeys simple physics: first-order lags, a timed thermostat, a boiler, sun through a window,
/// evaporation from open wet media. It moves in steps of a minute and depends on nothing but its start, zone and seed.
/// The numbers are invented and chosen to stay inside the ranges that growers report. Not thread-safe.
/// </summary>
public sealed class SimulatedHome
{
    private const double StepHours = 1.0 / 60;

    // Long enough for the slowest part, the flat's 40 h, to forget where it began.
    private static readonly Duration SettlingTime = Duration.FromDays(5);

    private readonly DateTimeZone zone;
    private readonly Outdoors outdoors;
    private readonly Flat flat;
    private readonly Dictionary<SpotId, SpotPhysics> spots;

    /// <param name="start">The first instant; the home has settled by then.</param>
    /// <param name="zone">Where it stands: heating and sun follow its clock.</param>
    /// <param name="seed">The same seed gives the same home, minute by minute.</param>
    public SimulatedHome(Instant start, DateTimeZone zone, int seed)
    {
        this.zone = zone;
        var random = new Random(seed);
        outdoors = new(random, StepHours);
        flat = new(random, StepHours);
        spots = SharedFlat.SpotDesigns.ToDictionary(design => design.Spot.Id, design => new SpotPhysics(design, StepHours, flat.Room));
        Now = start - SettlingTime;
        while (Now < start)
        {
            Step();
        }
    }

    /// <summary>How far one step goes.</summary>
    public static Duration StepLength { get; } = Duration.FromMinutes(1);

    /// <summary>The instant that <see cref="this[SpotId]"/> tells of.</summary>
    public Instant Now { get; private set; }

    /// <summary>What is so on a spot now.</summary>
    /// <exception cref="KeyNotFoundException">The home has no such spot.</exception>
    public SimulatedClimate this[SpotId spot] => spots[spot].Climate;

    /// <summary>Lets a minute pass.</summary>
    public void Step()
    {
        Now += StepLength;
        var time = Now.InZone(zone).LocalDateTime;
        outdoors.Step(time);
        flat.Step(time, outdoors);
        foreach (var spot in spots.Values)
        {
            spot.Step(flat, outdoors, time.Hour);
        }
    }
}
