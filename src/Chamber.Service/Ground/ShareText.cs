using System.Globalization;
using Chamber.Core;

namespace Chamber.Service.Ground;

/// <summary>Shares and money as people write them.</summary>
internal static class ShareText
{
    /// <summary>Reads <c>0.8</c> and <c>80%</c>.</summary>
    /// <exception cref="FormatException">Not a share from 0 to 1; the message says how to write one.</exception>
    public static double Parse(string text)
    {
        var trimmed = text.Trim();
        var percent = trimmed.EndsWith('%');
        return double.TryParse(trimmed.TrimEnd('%', ' '), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number)
            && number / (percent ? 100 : 1) is >= 0 and <= 1
            ? number / (percent ? 100 : 1)
            : throw new FormatException($"\"{text}\" is not a share: write 0.8 or 80%.");
    }

    /// <summary>Reads an amount of money, 0 or more, with a decimal point.</summary>
    public static decimal Money(string text) =>
        decimal.TryParse(text.Trim(), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var amount)
            ? Bounds.Price.Require(amount)
            : throw new FormatException($"\"{text}\" is not an amount of money: write 2.50, without a sign.");

    /// <summary>Reads a number above 0 and within a bound.</summary>
    public static double Positive(string text, Bound bound) =>
        double.TryParse(text.Trim(), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number) && number > 0
            ? bound.Require(number)
            : throw new FormatException($"\"{text}\" is not a number above 0: write it as 1.5.");

    /// <summary>Reads a whole number of at least 1 and within a bound.</summary>
    public static int Count(string text, Bound bound) =>
        long.TryParse(text.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= 1
            ? (int)bound.Require(number)
            : throw new FormatException($"\"{text}\" is not a count: write a whole number of at least 1.");

    public static string Show(decimal money) => money.ToString("0.00", CultureInfo.InvariantCulture);
}
