using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Ground;

/// <summary>A day as people type it.</summary>
internal static class DayText
{
    /// <exception cref="FormatException">It is not a day, or in a year beyond <see cref="Core.Bounds.Year"/>.</exception>
    public static LocalDate Parse(string text) =>
        LocalDatePattern.Iso.Parse(text.Trim()) is { Success: true } day && Core.Bounds.Year.Require(day.Value.Year) > 0
        ? day.Value
        : throw new FormatException($"\"{text}\" is not a day: write 2027-05-17.");
}
