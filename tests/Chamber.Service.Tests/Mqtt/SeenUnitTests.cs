using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>A unit that somebody told by looking at the sensor. Readings, times and counts are invented.</summary>
public sealed class SeenUnitTests
{
    [Fact]
    public void It_beats_what_the_payload_form_declares_and_only_for_that_probe()
    {
        var decoder = new MessageDecoder(TopicMap.Default,
            new() { SeenUnit = probe => probe.Text == "attic" ? DeclaredUnit.Fahrenheit : null });

        var batch = decoder.Decode(
            Decoding.Message("chamber/attic/reading", """{"temperature": 71.6}"""),
            Decoding.Message("chamber/shelf/reading", """{"temperature": 71.6}"""));

        Assert.Equal(22, Assert.Single(batch.Readings).Temperature!.Value.Celsius, 9);
        Assert.Equal(RefusalReason.OtherUnit, batch.OneRefusal().Reason);
    }
}
