using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Listening;
using Chamber.Service.Home.Writing;

namespace Chamber.Service.Web.Views;

/// <summary>A mapping for a topic as somebody puts it together on the page, begun from what is proposed.</summary>
internal sealed class MappingDraft
{
    /// <summary>Stands for the whole message, whose pointer is empty (RFC 6901).</summary>
    public const string Whole = "(whole)";

    public MappingDraft(TopicAnswer topic)
    {
        Topic = topic;
        Mapping = topic.Proposal ?? MappingProposal.Place(topic.Topic);
        Probe = Mapping.Probe ?? "";
        Parts = [.. new[] { Quantity.Temperature, Quantity.Humidity, Quantity.Moisture, Quantity.Battery }.Select(quantity =>
        {
            var found = topic.Found.FirstOrDefault(field => field.Quantity == quantity);
            return new MappingPart(quantity, found is null ? "" : Value(new(found.JsonPointer, found.Value)),
                found?.Unit ?? Units(quantity)[0].Code, topic.Unsure.Contains(quantity));
        })];
    }

    public TopicAnswer Topic { get; }

    public TopicMapping Mapping { get; }

    public bool IsSenml => Mapping.Form == PayloadForm.Senml;

    /// <summary>Whether no level of the topic names the probe.</summary>
    public bool NeedsProbe => Mapping.Probe is not null;

    public string Probe { get; set; }

    public IReadOnlyList<MappingPart> Parts { get; }

    /// <summary>What somebody has put together.</summary>
    /// <exception cref="BadInputException">Nothing was chosen, or it cannot be one mapping.</exception>
    public TopicMapping Made()
    {
        var named = NeedsProbe ? Mapping with { Probe = Probe.Trim() } : Mapping;
        if (IsSenml)
        {
            return named;
        }

        var chosen = Parts.Where(part => part.At.Length > 0).ToList();
        return chosen switch
        {
            [] => throw new BadInputException("Choose where at least one of the quantities stands."),
            [{ At: Whole } one] => named with { Form = PayloadForm.Number, Quantity = one.Quantity, Unit = one.Unit },
            _ => named with
            {
                Form = PayloadForm.Json,
                Temperature = Field(chosen, Quantity.Temperature),
                Humidity = Field(chosen, Quantity.Humidity),
                Moisture = Field(chosen, Quantity.Moisture),
                Battery = Field(chosen, Quantity.Battery),
            },
        };
    }

    public string Key(object part) =>
        $"map-{Topic.Topic.Replace('/', '-').Replace(' ', '-')}-{(part is MappingPart one ? one.Quantity : part)}";

    public static string Value(NumberAt number) => number.At.Length == 0 ? Whole : number.At;

    public static string Shown(NumberAt number) => string.Create(CultureInfo.InvariantCulture,
        $"{(number.At.Length == 0 ? "the message" : number.At)}: {number.Value:0.####}");

    /// <summary>The units a quantity may have, by UCUM, with their words.</summary>
    public static IReadOnlyList<(string Code, string Words)> Units(Quantity quantity) => quantity == Quantity.Temperature
        ? [("Cel", "°C"), ("[degF]", "°F"), ("K", "K")] : [("%", "%"), ("1", "0 to 1")];

    private static FieldMapping? Field(IEnumerable<MappingPart> parts, Quantity quantity) =>
        parts.FirstOrDefault(part => part.Quantity == quantity) is { } part ? new(part.At == Whole ? "" : part.At, part.Unit) : null;
}

/// <summary>Where one quantity stands in a message.</summary>
/// <param name="quantity">Which.</param>
/// <param name="at">A JSON Pointer; empty where it is not in it.</param>
/// <param name="unit">Its unit by UCUM.</param>
/// <param name="isGuess">Whether the unit was guessed.</param>
internal sealed class MappingPart(Quantity quantity, string at, string unit, bool isGuess)
{
    public Quantity Quantity => quantity;

    public string At { get; set; } = at;

    public string Unit { get; set; } = unit;

    public bool IsGuess => isGuess;
}
