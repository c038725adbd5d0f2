using System.Globalization;
using NodaTime;

namespace Chamber.Service.Ground;

/// <summary>What is known of the time without a clock.</summary>
internal static class KnownTime
{
    /// <summary>There was no Chamber before: a clock that says so was never set, as on a machine without one of its own.</summary>
    public static readonly Instant Earliest = Instant.FromUtc(2025, 1, 1, 0, 0);

    /// <summary>Nothing is written down by a clock that was never set.</summary>
    /// <exception cref="BadInputException">It is such a time.</exception>
    public static void Require(Instant now)
    {
        if (now < Earliest)
        {
            throw new BadInputException(string.Create(CultureInfo.InvariantCulture,
                $"This machine's clock says {now:uuuu'-'MM'-'dd}, so nothing is recorded: set it, preferably with a time service "
                    + $"(apt-get install systemd-timesyncd), and try again."));
        }
    }
}
