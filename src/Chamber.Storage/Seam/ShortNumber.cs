using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Chamber.Storage.Seam;

/// <summary>Numbers in JSON by nine significant digits, so that the same number is the same text on every machine.</summary>
public sealed class ShortNumber : JsonConverter<double>
{
    /// <summary>JSON has no word for infinity or not-a-number; both are null, "cannot say".</summary>
    public static string Text(double value) =>
        double.IsFinite(value) ? double.Parse(value.ToString("G9", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture)
            .ToString("R", CultureInfo.InvariantCulture) : "null";

    public override double Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => reader.GetDouble();

    public override void Write(Utf8JsonWriter writer, double value, JsonSerializerOptions options)
    {
        ArgumentNullException.ThrowIfNull(writer);
        writer.WriteRawValue(Text(value));
    }
}
