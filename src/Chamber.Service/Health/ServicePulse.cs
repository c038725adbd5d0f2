using Chamber.Storage;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Health;

/// <summary>When the service was last known to run: without it nothing is watched, and no alert means nothing.</summary>
internal static class ServicePulse
{
    private const string AliveSetting = "service.alive";

    /// <summary>It says so each minute; longer than this without a word it is not running.</summary>
    private static readonly Duration SilenceMax = Duration.FromHours(1);

    /// <summary>When it was last known to run; null when it never did.</summary>
    public static Instant? Last(Ledger ledger) =>
        ledger.Settings.Get(AliveSetting) is { } text && InstantPattern.ExtendedIso.Parse(text) is { Success: true } parsed
            ? parsed.Value : null;

    public static void Beat(Ledger ledger, Instant now) => ledger.Settings.Set(AliveSetting, InstantPattern.ExtendedIso.Format(now));

    /// <summary>Whether nobody watches.</summary>
    public static bool IsSilent(Ledger ledger, Instant now) => Last(ledger) is not { } alive || now - alive > SilenceMax;
}
