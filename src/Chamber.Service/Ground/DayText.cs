using System.Globalization;
using System.Text.RegularExpressions;
using Chamber.Core;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Ground;

/// <summary>A day as people type it.</summary>
internal static partial class DayText
{
    private const string Forms = "write 2027-05-17, 17.5.2027 or \"17 May 2027\"";

    /// <summary>Reads <c>2027-05-17</c>, <c>17.5.2027</c> and <c>17 May 2027</c>.</summary>
    /// <exception cref="FormatException">It is not a day, or in a year beyond <see cref="Core.Bounds.Year"/>.</exception>
    public static LocalDate Parse(string text) => Whole(text.Trim()) ?? throw None(text);

    /// <summary>Also <c>today</c>, <c>tomorrow</c> and <c>yesterday</c>, and <c>17 May</c> or <c>17.5.</c> of the year in which it is
    /// next.</summary>
    /// <inheritdoc cref="Parse(string)"/>
    public static LocalDate Parse(string text, LocalDate today) => Ahead(text.Trim(), today) ?? throw None(text);

    /// <summary>The same for something that has happened: a day without a year is the last one.</summary>
    /// <returns>Null when it is none of the forms.</returns>
    public static LocalDate? Past(string text, LocalDate today) =>
        Named(text, today) ?? Whole(text) ?? (OfYear(text, today.Year) is { } day && day > today ? OfYear(text, today.Year - 1)
            : OfYear(text, today.Year));

    private static LocalDate? Ahead(string text, LocalDate today) =>
        Named(text, today) ?? Whole(text) ?? (OfYear(text, today.Year) is { } day && day < today ? OfYear(text, today.Year + 1)
            : OfYear(text, today.Year));

    private static LocalDate? Named(string text, LocalDate today) => text.ToUpperInvariant() switch
    {
        "TODAY" => today,
        "TOMORROW" => today.PlusDays(1),
        "YESTERDAY" => today.PlusDays(-1),
        _ => null,
    };

    private static LocalDate? Whole(string text)
    {
        if (LocalDatePattern.Iso.Parse(text) is { Success: true } iso)
        {
            return InBounds(iso.Value);
        }

        RefuseSlashes(text);
        return Written().Match(text) is { Success: true } match && match.Groups["year"] is { Success: true } year
            ? Of(match, int.Parse(year.Value, CultureInfo.InvariantCulture)) : null;
    }

    private static LocalDate? OfYear(string text, int year) =>
        Written().Match(text) is { Success: true } match && !match.Groups["year"].Success ? Of(match, year) : null;

    private static LocalDate? Of(Match match, int year)
    {
        var day = int.Parse(match.Groups["day"].Value, CultureInfo.InvariantCulture);
        var month = match.Groups["month"] is { Success: true } number ? int.Parse(number.Value, CultureInfo.InvariantCulture)
            : MonthOf(match.Groups["name"].Value);
        Bounds.Year.Require(year);
        return month is >= 1 and <= 12 && day >= 1 && day <= CalendarSystem.Iso.GetDaysInMonth(year, month) ? new(year, month, day) : null;
    }

    private static int MonthOf(string name) =>
        1 + Array.FindIndex(CultureInfo.InvariantCulture.DateTimeFormat.MonthNames,
            month => month.Length > 0 && (month.Equals(name, StringComparison.OrdinalIgnoreCase)
                || month[..3].Equals(name, StringComparison.OrdinalIgnoreCase)));

    private static LocalDate InBounds(LocalDate day) => Bounds.Year.Require(day.Year) > 0 ? day : default;

    // 8/11 is a day in November to some and in August to others.
    private static void RefuseSlashes(string text)
    {
        if (Slashes().IsMatch(text))
        {
            throw new FormatException($"\"{text}\" can be read in two ways: {Forms}.");
        }
    }

    private static FormatException None(string text) => new($"\"{text}\" is not a day: {Forms}.");

    [GeneratedRegex(@"^(?<day>\d{1,2})(\.\s?(?<month>\d{1,2})\.(\s?(?<year>\d{4}))?|\.?\s(?<name>[A-Za-z]{3,9})\.?(\s(?<year>\d{4}))?)$")]
    private static partial Regex Written();

    [GeneratedRegex(@"^\d{1,2}/\d{1,2}(/\d{2,4})?$")]
    private static partial Regex Slashes();
}
