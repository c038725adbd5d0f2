using System.Text;
using Chamber.Club.Intake;
using Chamber.Club.Store;
using Microsoft.Extensions.Time.Testing;
using MQTTnet;
using NodaTime;

namespace Chamber.Club.Tests.Intake;

/// <summary>Other payloads than Chamber's own are read by the mappings that a home has set, and only in that home.</summary>
public sealed class MappingTests(ClubServer server)
{
    private static readonly Instant At = Instant.FromUtc(2026, 3, 2, 12, 0);

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_mapping_counts_in_its_own_home_and_as_soon_as_it_is_set()
    {
        await using var club = await server.Database();
        var (mill, weir) = (await club.AddHomeAsync("mill-lane-4", Stop), await club.AddHomeAsync("weir-house", Stop));
        var clock = new FakeTimeProvider();
        var decoders = new HomeDecoders(club, clock);
        Assert.Equal((0, 1), await Decoded("mill-lane-4"));

        await club.AsAsync(mill, session => SettingRows.PutAsync(session, mill,
            """{ "mappings": [ { "topic": "porch/{probe}", "form": "json", "temperature": { "pointer": "/t", "unit": "Cel" } } ] }"""), Stop);
        clock.Advance(TimeSpan.FromSeconds(20));
        Assert.Equal((1, 0), await Decoded("mill-lane-4"));
        Assert.Equal((0, 1), await Decoded("weir-house"));

        await club.AsAsync(mill, session => SettingRows.PutAsync(session, mill, "{}"), Stop);
        clock.Advance(TimeSpan.FromSeconds(20));
        Assert.Equal((0, 1), await Decoded("mill-lane-4"));
        Assert.NotEqual(mill, weir);

        async Task<(int Readings, int Refusals)> Decoded(string home)
        {
            var message = new MqttApplicationMessageBuilder().WithTopic($"homes/{home}/porch/sill").WithPayload(
                Encoding.UTF8.GetBytes("""{ "t": 21.5 }""")).Build();
            var batch = Assert.Single(await decoders.DecodeAsync([new(new("x", message, new(), (_, _) => Task.CompletedTask), At)], Stop));
            return (batch.Readings.Count, batch.Refusals.Count);
        }
    }
}
