using Chamber.Core.Climate;

namespace Chamber.Core.Seeds;

/// <summary>What storages are usually like.</summary>
public static class SeedStorages
{
    /// <summary>
    /// The usual temperature and relative humidity of a storage: a first guess, to be replaced by a probe.
    /// Common practice, no source, but for the cool room, which is the 50 °F and 50 % of the storage rule (G. Johnson, Univ. of Delaware
    /// Extension).
    /// </summary>
    public static (Temperature Temperature, RelativeHumidity Humidity) Usual(this SeedStorage storage) => storage switch
    {
        SeedStorage.Room => Climate(20, 50),
        SeedStorage.CoolRoom => Climate(10, 50),
        SeedStorage.RefrigeratorJar => Climate(5, 30),
        SeedStorage.FreezerSealed => Climate(-18, 20),
        SeedStorage.Damp => Climate(15, 75),
        SeedStorage.Warm => Climate(28, 40),
        _ => throw new ArgumentOutOfRangeException(nameof(storage), storage, "Not a storage."),
    };

    private static (Temperature Temperature, RelativeHumidity Humidity) Climate(double celsius, double percent) =>
        (Temperature.FromCelsius(celsius), RelativeHumidity.FromPercent(percent));
}
