using System.Globalization;
using System.Text;

namespace Chamber.Benchmarks.Pipeline;

/// <summary>Messages of twenty probes in turn, half a minute apart, ending now: what two weeks of a large home would send.</summary>
internal static class Load
{
    public const string Filter = "chamber/+/reading";
    public const int Probes = 20;

    private static readonly TimeSpan Every = TimeSpan.FromSeconds(30);

    public static IEnumerable<(byte[] Topic, byte[] Payload)> Messages(int count, DateTimeOffset end)
    {
        var topics = Enumerable.Range(0, Probes).Select(probe => Encoding.ASCII.GetBytes($"chamber/p{probe:00}/reading")).ToArray();
        var rounds = count / Probes;
        for (var round = 0; round < rounds; round++)
        {
            var at = end - Every * (rounds - round);
            for (var probe = 0; probe < Probes; probe++)
            {
                yield return (topics[probe], Encoding.ASCII.GetBytes(Payload(at.AddMilliseconds(probe), round, probe)));
            }
        }
    }

    // A slow wave for each probe, as a spot has from day to night.
    private static string Payload(DateTimeOffset at, int round, int probe)
    {
        var temperature = 22 + probe * 0.2 + 4 * Math.Sin(round / 460.0 + probe);
        return string.Create(CultureInfo.InvariantCulture,
            $$"""{"temperature":{{temperature:0.00}},"humidity":{{60 + 10 * Math.Cos(round / 460.0):0.0}},"at":"{{at.UtcDateTime:yyyy-MM-ddTHH:mm:ss.fffZ}}"}""");
    }
}
