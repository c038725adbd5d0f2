namespace Chamber.Core.Climate;

/// <summary>
/// The codes by which sensors and their drivers say "I measured nothing". A code is an exact number, so that a true 84.9 °C next to
/// the code 85 is still believed.
/// </summary>
public static class SentinelValues
{
    // A code that went through °F or K and back, or was printed with two decimals, is still the code; 84.99 is not.
    private const double Tolerance = 0.004;

    // Two-byte numbers at their end, in tenths and hundredths, and the nines of drivers: common practice, no source.
    private static readonly double[] DriverCodes =
        [-999, 999, -9999, 9999, -99, 327.67, -327.68, 3276.7, -3276.8, 655.35, 6553.5];

    private static readonly double[] TemperatureCodes =
    [
        // Power-on value of a common 1-wire thermometer, and what it says when short of power (Arduino Temperature Control
        // Library, release notes 4.0.6); -127 is that library's constant for "disconnected" (from memory).
        85, 127.94, 127.9375, -127,

        // Raw -10000 of radio sensors whose battery is weak (zigbee2mqtt 798; Tasmota 9978).
        -100,

        // All bits 0 and all bits 1 in the conversion formulas of two humidity chips (Sensirion data sheets SHT20, 2011, and SHT3x, 2014).
        -46.85, 128.87, -45, 130,
    ];

    // SHT20 data sheet, 2011: RH = -6 + 125 S / 65536, at all bits 0 and all bits 1. And 0: no room is that dry, a chip that
    // did not answer says so.
    private static readonly double[] HumidityCodes = [0, -6, 118.99, 119];

    // What loggers, bridges and their users put in place of a number: common practice, no source.
    private static readonly string[] WordsForNothing =
        ["unavailable", "unknown", "none", "null", "nan", "n/a", "na", "offline", "-", "--", "---"];

    /// <summary>Whether a text stands for "no number" rather than for something mistyped; an empty one does.</summary>
    public static bool IsWordForNothing(ReadOnlySpan<char> text)
    {
        var trimmed = text.Trim();
        foreach (var word in WordsForNothing)
        {
            if (trimmed.Equals(word, StringComparison.OrdinalIgnoreCase))
            {
                return true;
            }
        }

        return trimmed.IsEmpty;
    }

    /// <summary>Whether a number, in °C, percent or the raw scale, is a code of its quantity and no measurement.</summary>
    public static bool Contains(Quantity quantity, double held) => quantity switch
    {
        Quantity.Temperature => IsOneOf(TemperatureCodes, held) || IsOneOf(DriverCodes, held),
        Quantity.Humidity => IsOneOf(HumidityCodes, held) || IsOneOf(DriverCodes, held),

        // 255 is one byte's "unknown" for a charge (common practice, no source).
        Quantity.Battery => held == 255 || IsOneOf(DriverCodes, held),
        _ => held is -999 or -9999,
    };

    /// <summary>
    /// Two pairs that are codes while each half could be true: 0 °C with 0 % (no answer), and -40 °C with 100 %
    /// (out of range; node-red-nodes 225).
    /// </summary>
    public static bool ContainsPair(double celsius, double percent) =>
        (Near(celsius, 0) && percent == 0) || (Near(celsius, -40) && percent == 100);

    private static bool IsOneOf(double[] codes, double value)
    {
        foreach (var code in codes)
        {
            if (Near(code, value))
            {
                return true;
            }
        }

        return false;
    }

    private static bool Near(double code, double value) => Math.Abs(code - value) <= Tolerance;
}
