using InfluxDB.Client.Api.Domain;
using InfluxDB.Client.Writes;
using NodaTime;

namespace Chamber.Service.Mirror;

/// <summary>A tag or a field of a measurement: a field's name ends in its unit.</summary>
/// <param name="Name">As the server knows it.</param>
/// <param name="Meaning">What it is, for docs/mirror.md.</param>
/// <param name="Decimals">So many of a field are sent, 0 to 15; what lies behind them is noise of the arithmetic.</param>
internal sealed record Part(string Name, string Meaning, int Decimals = 0);

/// <summary>One kind of line that the mirror sends.</summary>
internal sealed record Measurement(string Name, string Meaning, IReadOnlyList<Part> Tags, IReadOnlyList<Part> Fields)
{
    /// <summary>Tells homes apart that write into the same bucket.</summary>
    public const string HomeTag = "home";

    /// <summary>The line of a moment, or null when no field has a value.</summary>
    /// <param name="home">The name of the home (<see cref="Configuration.MirrorSettings.Home"/>); null where there is no other.</param>
    /// <param name="at">When.</param>
    /// <param name="tags">Their values, in the order of <see cref="Tags"/>.</param>
    /// <param name="fields">Their values, in the order of <see cref="Fields"/>; null is left out.</param>
    public string? Line(string? home, Instant at, ReadOnlySpan<string> tags, ReadOnlySpan<double?> fields)
    {
        if (tags.Length != Tags.Count || fields.Length != Fields.Count)
        {
            throw new ArgumentException($"{Name} has {Tags.Count} tags and {Fields.Count} fields.");
        }

        var point = PointData.Builder.Measurement(Name);
        if (home is not null)
        {
            point.Tag(HomeTag, home);
        }

        for (var i = 0; i < tags.Length; i++)
        {
            point.Tag(Tags[i].Name, tags[i]);
        }

        var filled = false;
        for (var i = 0; i < fields.Length; i++)
        {
            if (fields[i] is { } value && double.IsFinite(value))
            {
                point.Field(Fields[i].Name, Math.Round(value, Fields[i].Decimals));
                filled = true;
            }
        }

        return filled ? point.Timestamp(at.ToUnixTimeMilliseconds(), WritePrecision.Ms).ToPointData().ToLineProtocol() : null;
    }
}
