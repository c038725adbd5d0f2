using System.Globalization;

namespace Chamber.Service.Web.Views;

/// <summary>Bars as the style of an element; what they show stands beside them in words.</summary>
internal static class Bars
{
    private const double WidthMin = 1.5;

    /// <summary>A bar for a share, 0 to 1.</summary>
    public static string Width(double share) =>
        string.Create(CultureInfo.InvariantCulture, $"width:{100 * Math.Clamp(share, 0, 1):0.#}%");

    /// <summary>A bar from one value to another, of a whole that begins at 0.</summary>
    public static string Place(double from, double to, double whole) => string.Create(CultureInfo.InvariantCulture,
        $"left:{100 * from / whole:0.##}%;width:{Math.Max(WidthMin, 100 * (to - from) / whole):0.##}%");

    /// <summary>A column of a row of them; all three as shares of the whole, 0 to 1.</summary>
    public static string Column(double left, double width, double height) => string.Create(CultureInfo.InvariantCulture,
        $"left:{100 * left:0.##}%;width:{100 * width:0.##}%;height:{100 * Math.Clamp(height, 0, 1):0.#}%");
}
