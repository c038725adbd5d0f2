using System.Globalization;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage.Files;

/// <summary>Times and words as the file has them.</summary>
internal static class Moments
{
    private static readonly long First = Instant.MinValue.ToUnixTimeMilliseconds() + 1;

    private static readonly long Last = Instant.MaxValue.ToUnixTimeMilliseconds();

    public static long Milliseconds(this Instant at) => at.ToUnixTimeMilliseconds();

    public static long? Milliseconds(this Instant? at) => at?.ToUnixTimeMilliseconds();

    /// <summary>A time beyond what there can be is taken as the first or last there is, for whoever asks for bounds to leave it
    /// out.</summary>
    public static Instant Moment(this SqliteDataReader row, int column) =>
        Instant.FromUnixTimeMilliseconds(Math.Clamp(row.GetInt64(column), First, Last));

    public static Instant? MaybeMoment(this SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.Moment(column);

    public static Interval Stretch(this SqliteDataReader row, int start, int end) => new(row.Moment(start), row.MaybeMoment(end));

    public static T Word<T>(this SqliteDataReader row, int column)
        where T : struct, Enum => Enum.Parse<T>(row.GetString(column));

    public static string Invariant(this decimal value) => value.ToString(CultureInfo.InvariantCulture);
}
