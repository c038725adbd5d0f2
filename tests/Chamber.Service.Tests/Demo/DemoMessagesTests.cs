using Chamber.Core.Climate;
using Chamber.Core.Simulation;
using Chamber.Mqtt.Decoding;
using Chamber.Service.Demo;
using NodaTime;

namespace Chamber.Service.Tests.Demo;

/// <summary>Values are of the simulated home; 85 and -127 are codes by which a common sensor says that it measured nothing (from
/// memory).</summary>
public sealed class DemoMessagesTests
{
    private static readonly Instant At = Instant.FromUtc(2026, 2, 20, 15, 0, 7);

    public static TheoryData<string> Probes => [.. SharedFlat.Probes.Select(design => design.Probe.Id.Text)];

    [Theory]
    [MemberData(nameof(Probes))]
    public void What_a_probe_says_is_what_is_decoded(string probe)
    {
        var design = SharedFlat.Probes.Single(design => design.Probe.Id.Text == probe);
        var said = new ProbeSaid(new(probe), At, 23.4, design.Humidity ? 61.5 : null, design.Moisture ? 512 : null, 87);

        var reading = Assert.Single(Decode(said).Readings);

        Assert.Equal(said.Probe, reading.Probe);
        Assert.Equal(At, reading.MeasuredAt);
        Assert.Equal(23.4, reading.Temperature!.Value.Celsius, 0.03);
        Assert.Equal(said.HumidityPercent, reading.Humidity?.Percent);
        Assert.Equal(said.Moisture, reading.Moisture);
    }

    [Theory]
    [InlineData(85)]
    [InlineData(-127)]
    public void What_a_loose_wire_gives_is_refused_by_name(double celsius)
    {
        var decoded = Decode(new(new("freezer-mix"), At, celsius, null, null, 90));

        Assert.Equal(RefusalReason.Sentinel, Assert.Single(decoded.Refusals).Reason);
        Assert.DoesNotContain(decoded.Readings, reading => reading.Temperature is not null);
    }

    private static DecodedBatch Decode(in ProbeSaid said)
    {
        var message = DemoMessages.Of(said);
        var decoded = new DecodedBatch();
        new MessageDecoder(TopicMap.Create(DemoMessages.Mappings)).Decode(new(message.Topic, message.Bytes, false, said.At), decoded);
        return decoded;
    }
}
