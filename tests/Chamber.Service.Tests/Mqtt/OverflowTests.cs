using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>Numbers that no double holds, in every form that a payload can have: each is refused, and nothing else is lost. The values are
/// invented.</summary>
public sealed class OverflowTests
{
    [Theory]
    [InlineData("""{"temperature": 1e999, "humidity": 50}""", RefusalReason.Impossible)]
    [InlineData("""{"temperature": -1e999, "humidity": 50}""", RefusalReason.Impossible)]
    [InlineData("""{"temperature": "1e999", "humidity": 50}""", RefusalReason.Malformed)]
    [InlineData("""{"temperature": 1e308, "humidity": 50}""", RefusalReason.Impossible)]
    [InlineData("""{"moisture": 1e999, "humidity": 50}""", RefusalReason.Impossible)]
    [InlineData("""{"battery": 1e999, "humidity": 50}""", RefusalReason.Impossible)]
    public void A_number_beyond_any_is_refused_and_the_rest_is_used(string payload, RefusalReason reason)
    {
        var batch = Decoding.Own(payload);
        Assert.Equal(50, Assert.Single(batch.Readings).Humidity!.Value.Percent);
        Assert.Equal(reason, batch.OneRefusal().Reason);
    }

    [Theory]
    [InlineData("""[{"n": "shelf", "u": "Cel", "v": 1e999}]""", RefusalReason.Impossible)]
    [InlineData("""[{"n": "shelf", "u": "Cel", "bv": 1e308, "v": 1e308}]""", RefusalReason.Impossible)]
    [InlineData("""[{"n": "shelf", "u": "K", "bv": 1e999, "v": -1e999}]""", RefusalReason.Missing)]
    public void So_is_one_of_SenML_and_a_sum_that_overflows(string payload, RefusalReason reason)
    {
        var mapping = new TopicMapping
        {
            Topic = "senml/#", Form = PayloadForm.Senml,
            Names = new Dictionary<string, SenmlName> { ["{probe}"] = new(Quantity.Temperature) },
        };
        var batch = Decoding.With(mapping).Decode(Decoding.Message("senml/shelf", payload));
        Assert.Empty(batch.Readings);
        Assert.Equal(reason, batch.OneRefusal().Reason);
    }

    [Theory]
    [InlineData("1e999")]
    [InlineData("-1e999")]
    [InlineData("Infinity")]
    [InlineData("99999999999999999999999999999999999999999999999999")]
    public void So_is_a_bare_number(string payload)
    {
        var mapping = new TopicMapping
        {
            Topic = "radio/{probe}/temperature", Form = PayloadForm.Number, Quantity = Quantity.Temperature,
            Unit = "Cel",
        };
        var batch = Decoding.With(mapping).Decode(Decoding.Message("radio/shelf/temperature", payload));
        Assert.Empty(batch.Readings);
        Assert.True(batch.OneRefusal().Reason is RefusalReason.Malformed or RefusalReason.Impossible);
    }
}
