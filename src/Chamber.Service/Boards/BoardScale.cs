using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Climate;

namespace Chamber.Service.Boards;

/// <summary>The scale that a board shows temperatures in. The format cannot convert by choice, so there are boards in each; series are
/// always in °C.</summary>
internal sealed record BoardScale(TemperatureScale Scale)
{
    private bool IsCelsius => Scale == TemperatureScale.Celsius;

    /// <summary>The format's word for it.</summary>
    public string Degrees => IsCelsius ? "celsius" : "fahrenheit";

    /// <summary>The unit of warm-hours.</summary>
    public string WarmHours => Scale.Unit() + "·h";

    /// <summary>From which temperatures on seed is harmed and there is danger, by the usual limits of the watch.</summary>
    public IReadOnlyList<BoardStep> Heat =>
    [
        new(null, "green"),
        new(Number(ConditionRegistry.UsualLimit("hazard harm")), "orange"),
        new(Number(ConditionRegistry.UsualLimit("hazard danger")), "red"),
    ];

    /// <summary>A query for temperatures.</summary>
    public string Temperature(string celsius) => IsCelsius ? celsius : $"({celsius}) * 1.8 + 32";

    /// <summary>A query for warm-hours.</summary>
    public string Warmth(string celsiusHours) => IsCelsius ? celsiusHours : $"({celsiusHours}) * 1.8";

    private double Number(double celsius) => IsCelsius ? celsius : Core.Climate.Temperature.FromCelsius(celsius).Fahrenheit;
}
