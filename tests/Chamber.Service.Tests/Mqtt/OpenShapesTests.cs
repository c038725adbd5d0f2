using System.Text;
using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Listening;
using NodaTime;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>
/// Open shapes that are told by their structure, with the mapping that is proposed read back by the decoder. SenML messages are those of
/// RFC 8428, sections 5.1.1 to 5.1.3, shortened; NGSI-LD properties with UN/CEFACT units after ETSI GS CIM 009.
/// </summary>
public sealed class OpenShapesTests
{
    private static readonly Instant At = Instant.FromUtc(2027, 3, 1, 8, 0);

    [Fact]
    public void One_senml_record_is_read_by_its_unit()
    {
        var read = Read("home/ow/senml", """[{"n":"urn:dev:ow:10e2073a01080063","u":"Cel","v":23.1}]""");
        Assert.Equal(("ow", 23.1), (read.Probe.Text, read.Temperature!.Value.Celsius));
    }

    [Fact]
    public void Records_with_base_values_are_read_with_them()
    {
        var read = Read("greens/box/senml", """
            [{"bn":"urn:dev:ow:10e2073a01080063:","bu":"Cel","n":"temp","v":22.4},{"n":"humidity","u":"%RH","v":61.5}]
            """);
        Assert.Equal((22.4, 61.5), (read.Temperature!.Value.Celsius, read.Humidity!.Value.Percent));
    }

    [Fact]
    public void Records_of_several_devices_name_their_probes()
    {
        const string message = """
            [{"bn":"urn:dev:ow:mat:","n":"temp","u":"Cel","v":27.4},{"bn":"urn:dev:ow:sill:","n":"temp","u":"Cel","v":17.1}]
            """;
        Assert.Equal([("mat", 27.4), ("sill", 17.1)],
            All("senml/all", message).Select(read => (read.Probe.Text, read.Temperature!.Value.Celsius)));
    }

    [Fact]
    public void A_unit_code_beside_a_value_is_understood() => Assert.Equal(68, Fahrenheit(Read("ld/shelf/entity", """
        {"id":"urn:ngsi-ld:Device:shelf","type":"Device","temperature":{"type":"Property","value":68,"unitCode":"FAH"}}
        """)), 1e-9);

    [Fact]
    public void A_list_that_is_no_senml_is_none() =>
        Assert.Null(MappingProposal.Of("a/b", Encoding.UTF8.GetBytes("""[{"n":"temp","u":"Cel","v":23.1,"extra":true}]""")) is { } proposal
            && proposal.Mapping.Form == PayloadForm.Senml ? proposal : null);

    private static double Fahrenheit(Reading reading) => reading.Temperature!.Value.Celsius * 1.8 + 32;

    private static Reading Read(string topic, string message) => Assert.Single(All(topic, message));

    private static IReadOnlyList<Reading> All(string topic, string message)
    {
        var bytes = Encoding.UTF8.GetBytes(message);
        var proposal = MappingProposal.Of(topic, bytes);
        Assert.NotNull(proposal);
        var into = new DecodedBatch();
        new MessageDecoder(TopicMap.Create([proposal.Mapping])).Decode(new(topic, bytes, Retained: false, At), into);
        Assert.Empty(into.Refusals);
        return into.Readings;
    }
}
