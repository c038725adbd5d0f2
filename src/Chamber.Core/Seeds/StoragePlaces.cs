using Chamber.Core.Climate;

namespace Chamber.Core.Seeds;

/// <summary>What the places where seed is kept are usually like.</summary>
public static class StoragePlaces
{
    /// <summary>
    /// The usual temperature and relative humidity of a place: a first guess, to be replaced by a probe.
    /// Common practice, no source, but for the cool room, which is the 50 °F and 50 % of the storage rule (G. Johnson, Univ. of Delaware
    /// Extension).
    /// </summary>
    public static (Temperature Temperature, RelativeHumidity Humidity) Usual(this StoragePlace place) => place switch
    {
        StoragePlace.Room => Climate(20, 50),
        StoragePlace.CoolRoom => Climate(10, 50),
        StoragePlace.RefrigeratorJar => Climate(5, 30),
        StoragePlace.FreezerSealed => Climate(-18, 20),
        StoragePlace.Damp => Climate(15, 75),
        StoragePlace.Warm => Climate(28, 40),
        _ => throw new ArgumentOutOfRangeException(nameof(place), place, "Not a storage place."),
    };

    private static (Temperature Temperature, RelativeHumidity Humidity) Climate(double celsius, double percent) =>
        (Temperature.FromCelsius(celsius), RelativeHumidity.FromPercent(percent));
}
