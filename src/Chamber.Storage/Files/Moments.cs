using System.Globalization;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage.Files;

/// <summary>Times and words as the file has them.</summary>
internal static class Moments
{
    public static long Milliseconds(this Instant at) => at.ToUnixTimeMilliseconds();

    public static long? Milliseconds(this Instant? at) => at?.ToUnixTimeMilliseconds();

    public static Instant Moment(this SqliteDataReader row, int column) => Instant.FromUnixTimeMilliseconds(row.GetInt64(column));

    public static Instant? MaybeMoment(this SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.Moment(column);

    public static Interval Stretch(this SqliteDataReader row, int start, int end) => new(row.Moment(start), row.MaybeMoment(end));

    public static T Word<T>(this SqliteDataReader row, int column)
        where T : struct, Enum => Enum.Parse<T>(row.GetString(column));

    public static string Invariant(this decimal value) => value.ToString(CultureInfo.InvariantCulture);
}
