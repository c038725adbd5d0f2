using System.Text.Json;
using System.Text.RegularExpressions;
using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>docs/topics.md is what a user copies from: its examples are run, and no reason is left out.</summary>
public sealed partial class TopicsDocumentTests
{
    private static readonly string Document = File.ReadAllText(SourceTree.Path("docs", "topics.md"));

    [Fact]
    public void Every_reason_for_a_refusal_has_a_line() =>
        Assert.All(Enum.GetNames<RefusalReason>(), reason => Assert.Contains($"\n| `{reason}` | ", Document, StringComparison.Ordinal));

    [Fact]
    public void Every_mapping_and_every_message_in_the_document_works()
    {
        var mappings = JsonBlock().Matches(Document)
            .Select(block => JsonSerializer.Deserialize<TopicMapping>(block.Groups[1].Value, JsonSerializerOptions.Web)!);
        var decoder = new MessageDecoder(TopicMap.Create([.. mappings]));
        var messages = Message().Matches(Document)
            .Select(match => (Topic: match.Groups[1].Value.Trim('\''), Payload: match.Groups[2].Value.Trim('\''))).ToList();

        var batch = decoder.Decode(
            [.. messages.Select(
            message => Decoding.Message(message.Topic, message.Payload, receivedAt: Decoding.Now + Duration.FromSeconds(5)))]);

        Assert.Equal(5, messages.Count);
        Assert.Empty(batch.Refusals);
        Assert.Equal(
            ["boiler-cupboard 24.8", "router-shelf 23.1", "boiler-cupboard 22", "heat-mat 27.4", "heat-mat 27.1", "window-sill 17.25"],
            batch.Readings.Select(
                reading => FormattableString.Invariant($"{reading.Probe.Text} {Math.Round(reading.Temperature!.Value.Celsius, 6)}")));
    }

    [GeneratedRegex("```json\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex JsonBlock();

    [GeneratedRegex(@"^mosquitto_pub -q 1 -t ('[^']*'|\S+) -m ('[^']*'|\S+)$", RegexOptions.Multiline)]
    private static partial Regex Message();
}
