using System.Globalization;
using Chamber.Core.Climate;

namespace Chamber.Service.Web.Views;

/// <summary>A probe that has spoken while somebody listened.</summary>
/// <param name="Name">Its name, as in its topic.</param>
/// <param name="Temperature">What it said; null when it said none, or none that could be used.</param>
/// <param name="Refused">The number that was refused because it fits the other unit; null when none was.</param>
public sealed record HeardProbe(string Name, Temperature? Temperature, double? Refused)
{
    internal static HeardProbe Of(LatestReading latest) => new(latest.Probe.Text, latest.Temperature?.Value, null);

    internal static HeardProbe Of(Refusal refusal) => new(
        refusal.Probe!.Value.Text,
        null,
        double.TryParse(refusal.Raw.Split(' ')[0], NumberStyles.Float, CultureInfo.InvariantCulture, out var number) ? number : null);
}
