using System.Net;

namespace Chamber.Mqtt.Broker;

/// <summary>
/// Wrong passwords by address. Each try costs a tenth of a second of a processor, so that who guesses without end is not even listened to
/// for the rest of the minute. Safe for many threads.
/// </summary>
internal sealed class PasswordTries(int most, TimeProvider clock)
{
    /// <summary>Addresses counted at one time; when there are more, the oldest is forgotten.</summary>
    private const int AddressesMax = 1_024;

    private static readonly TimeSpan Span = TimeSpan.FromMinutes(1);

    private readonly Lock gate = new();
    private readonly Dictionary<IPAddress, (DateTimeOffset From, int Wrong)> addresses = [];

    /// <summary>Whether an address has guessed too often within the minute.</summary>
    public bool IsOver(IPAddress address)
    {
        lock (gate)
        {
            return addresses.TryGetValue(address, out var known) && clock.GetUtcNow() - known.From < Span && known.Wrong >= most;
        }
    }

    public void Wrong(IPAddress address)
    {
        lock (gate)
        {
            var now = clock.GetUtcNow();
            if (addresses.TryGetValue(address, out var known) && now - known.From < Span)
            {
                addresses[address] = known with { Wrong = known.Wrong + 1 };
                return;
            }

            if (addresses.Count >= AddressesMax)
            {
                addresses.Remove(addresses.MinBy(entry => entry.Value.From).Key);
            }

            addresses[address] = (now, 1);
        }
    }
}
