using System.Globalization;
using Chamber.Core.Climate;

namespace Chamber.Service.Home.Answers;

/// <summary>What is added to the readings of a probe, in words.</summary>
internal static class CalibrationWords
{
    public static string Of(CalibrationAnswer calibration, TemperatureScale scale)
    {
        List<string> parts = [];
        if (calibration.OffsetKelvins != 0 || calibration.UncertaintyKelvins is not null)
        {
            var offset = TemperatureDifference.FromKelvins(calibration.OffsetKelvins);
            var doubt = calibration.UncertaintyKelvins is { } kelvins
                ? $" (±{scale.ShowSmall(TemperatureDifference.FromKelvins(kelvins))})" : "";
            parts.Add($"{Signed(scale, offset)} added{doubt}");
        }

        if (calibration.HumidityPoints is { } points)
        {
            parts.Add(string.Create(CultureInfo.InvariantCulture, $"{points:+0.0;-0.0;0} points added to its humidity"));
        }

        if (calibration.DryRaw is { } dry)
        {
            parts.Add(string.Create(CultureInfo.InvariantCulture, $"dry at {dry:0.###}"));
        }

        if (calibration.SaturatedRaw is { } soaked)
        {
            parts.Add(string.Create(CultureInfo.InvariantCulture, $"soaked at {soaked:0.###}"));
        }

        return parts.Count == 0 ? "Nothing is added" : PlainText.Capital(string.Join(", ", parts))
            + (calibration.Note is { } how ? $", {how}" : "");
    }

    /// <summary>A difference with its sign, in the scale that is shown.</summary>
    public static string Signed(TemperatureScale scale, TemperatureDifference offset) =>
        (offset.Kelvins > 0 ? "+" : "") + scale.ShowSmall(offset);
}
