using System.Globalization;
using Chamber.Mqtt.Broker;
using Chamber.Service.Configuration;
using Chamber.Service.Tests.Mqtt;
using Chamber.Testing;

namespace Chamber.Service.Tests.Faults;

/// <summary>
/// What somebody may try in order to take the memory of the machine, by tests/cases/faults/broker.csv: the bound counts it, little is held,
/// and a sensor is heard beside it. Ten times as long, and on a broker without bounds too, it is a benchmark (docs/security.md).
/// </summary>
[Trait(Tier.Name, Tier.Whole)]
[Collection(MemoryAlone.Name)]
public sealed class BrokerAttackTests(ITestOutputHelper output)
{
    private const int Megabyte = 1024 * 1024;

    // A tenth of the bounds for a tenth of the attack.
    private static readonly BrokerOptions Bounded = BrokerParts.Own(new(), new("."), 65_536) with
    {
        SessionsMax = 100, RetainedBytesMax = 400_000, WaitingBytesMax = 1_600_000, ReaderBytesMax = 200_000,
    };

    public static TheoryData<string, string, int> Cases => [.. FaultCases.Of("broker.csv").Select(line =>
        (line[0], line[1], int.Parse(line[2], CultureInfo.InvariantCulture)))];

    [Theory]
    [MemberData(nameof(Cases))]
    public async Task An_attack_on_memory_is_counted_and_holds_little(string attack, string counted, int heldMax)
    {
        using var folder = new TempFolder();
        await using var rig = new IntakeRig();
        var listener = BuiltInBrokerTests.Loopback();
        await using var broker = await rig.StartBroker(listener, folder, Bounded);
        using var stranger = new BrokerAttack(listener.Port, times: 1, TestContext.Current.CancellationToken);
        var before = GC.GetTotalMemory(forceFullCollection: true);
        await stranger.Make(attack);
        await Wait.Until("the bound to count it", () => broker.Metrics.Refused.GetValueOrDefault(counted) > 0);
        var held = GC.GetTotalMemory(forceFullCollection: true) - before;

        await stranger.SpeakBeside();
        await rig.Until(() => rig.Readings.Count == 1);
        output.WriteLine($"{attack}: {held / Megabyte} MB held");
        Assert.InRange(held, long.MinValue, (long)heldMax * Megabyte);
    }
}

/// <summary>What measures the memory of the process runs while nothing else does.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public sealed class MemoryAlone
{
    internal const string Name = "memory, alone";
}
