using Chamber.Core.Climate;

namespace Chamber.Core.Simulation;

/// <summary>What is really so on a simulated spot at an instant; a probe sees it only through its own faults.</summary>
/// <param name="Air">The air about the seed: under the lid where there is one.</param>
/// <param name="Media">The mix or towel at seed depth.</param>
/// <param name="Humidity">Of the same air.</param>
/// <param name="Wetness">Water in the media as a share of what it holds at most, 0 to 1.</param>
public readonly record struct SimulatedClimate(Temperature Air, Temperature Media, RelativeHumidity Humidity, double Wetness);
