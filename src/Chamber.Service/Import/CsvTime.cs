using System.Globalization;
using Chamber.Core.Climate;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Import;

/// <summary>Reads the times of a file in their declared form. Remembers the last one, to tell the two halves of a repeated hour
/// apart.</summary>
internal sealed class CsvTime
{
    private static readonly Instant ClocksSetSince = Instant.FromUtc(2000, 1, 1, 0, 0);

    private readonly string form;
    private readonly Instant earliest;
    private readonly string fixOfForm;
    private readonly DateTimeZone zone;
    private readonly LocalDateTimePattern? pattern;
    private Instant last = Instant.MinValue;

    /// <exception cref="BadInputException">The form or the zone is none.</exception>
    public CsvTime(CsvLayout layout, DateTimeZone home)
    {
        form = layout.Time;
        earliest = layout.IsTrace ? Instant.MinValue : ClocksSetSince;
        fixOfForm = layout.IsTrace
            ? "is not a time by RFC 3339: write it with its offset, such as 2026-03-01T07:40:00Z."
            : $"is not a time as declared ({form}): set --time to the form that the file has.";
        zone = layout.Zone is { } name ? ZoneOf(name) : home;
        pattern = form is "rfc3339" or "epoch-seconds" or "epoch-milliseconds" ? null : PatternOf(form);
    }

    /// <summary>An instant, or why there is none and what to do.</summary>
    public (Instant? At, RefusalReason Reason, string Fix) Read(string text, Instant latest)
    {
        var at = Parse(text.Trim(), out var fix);
        if (at is not { } instant)
        {
            return (null, RefusalReason.BadTime, fix);
        }

        if (instant < earliest)
        {
            return (null, RefusalReason.BadTime, "The logger's clock was never set, or --time is wrong for this file.");
        }

        if (instant > latest)
        {
            return (null, RefusalReason.FutureTime, "It lies in the future: set the logger's clock, or correct --zone.");
        }

        last = instant;
        return (instant, default, string.Empty);
    }

    private Instant? Parse(string text, out string fix)
    {
        fix = $"\"{Cut(text)}\" {fixOfForm}";
        if (form.StartsWith("epoch", StringComparison.Ordinal))
        {
            return FromEpoch(text);
        }

        if (pattern is null)
        {
            return OffsetDateTimePattern.Rfc3339.Parse(text) is { Success: true } absolute ? absolute.Value.ToInstant() : null;
        }

        return pattern.Parse(text) is { Success: true } local ? FromLocal(local.Value, ref fix) : null;
    }

    private Instant? FromEpoch(string text) =>
        decimal.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number)
            && Math.Abs(form == "epoch-seconds" ? number * 1000 : number) < 2.5e14m
            ? Instant.FromUnixTimeMilliseconds((long)(form == "epoch-seconds" ? number * 1000 : number))
            : null;

    private Instant? FromLocal(LocalDateTime local, ref string fix)
    {
        var mapping = zone.MapLocal(local);
        if (mapping.Count == 0)
        {
            fix = $"That time did not exist in {zone.Id}: the clock went forward. If the logger doesn't change its clock, give --zone as "
                + $"an offset such as +01:00.";
            return null;
        }

        // In the hour that the clock repeats the first half comes first in the file.
        var first = mapping.First().ToInstant();
        return mapping.Count == 1 || first >= last ? first : mapping.Last().ToInstant();
    }

    private static LocalDateTimePattern PatternOf(string form)
    {
        try
        {
            return LocalDateTimePattern.CreateWithInvariantCulture(form.Replace('y', 'u'));
        }
        catch (InvalidPatternException problem)
        {
            throw new BadInputException($"--time \"{form}\" is not a form of time ({problem.Message}): write rfc3339, epoch-seconds, "
                + $"epoch-milliseconds, or a pattern such as dd.MM.yyyy HH:mm.", problem);
        }
    }

    private static DateTimeZone ZoneOf(string name) =>
        OffsetPattern.GeneralInvariantWithZ.Parse(name) is { Success: true } offset
            ? DateTimeZone.ForOffset(offset.Value)
            : DateTimeZoneProviders.Tzdb.GetZoneOrNull(name) ?? throw new BadInputException(
                $"--zone {name} is not a time zone: write a tz database name such as Europe/Berlin, or an offset such as +02:00.");

    private static string Cut(string text) => text.Length <= 40 ? text : text[..40] + "...";
}
