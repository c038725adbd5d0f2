using System.Globalization;
using Chamber.Core;

namespace Chamber.Service.Ground;

/// <summary>How deep seed is sown, as people type it: <c>6</c>, <c>6mm</c> or <c>1.3cm</c>.</summary>
internal static class DepthText
{
    /// <summary>Millimetres of mix above the seed.</summary>
    /// <exception cref="FormatException">It is no depth, or out of bounds.</exception>
    public static double Parse(string text)
    {
        var typed = text.Trim();
        var (number, times) = typed.EndsWith("mm", StringComparison.OrdinalIgnoreCase) ? (typed[..^2], 1)
            : typed.EndsWith("cm", StringComparison.OrdinalIgnoreCase) ? (typed[..^2], 10) : (typed, 1);
        return double.TryParse(number.Trim(), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var depth)
            ? Bounds.Depth.Require(depth * times)
            : throw new FormatException($"\"{text}\" is not a depth: write millimetres, such as 6 or 1.3cm.");
    }
}
