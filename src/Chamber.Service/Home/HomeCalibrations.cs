using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>What is known of each probe's error, and since when. Raw readings are never changed: corrections are added when they are
/// read.</summary>
internal sealed class HomeCalibrations(HomeLedger ledger)
{
    private readonly ILookup<ProbeId, Calibration> all = ledger.Calibrations.ToLookup(calibration => calibration.Probe);

    /// <summary>Of one probe, in order of time.</summary>
    public IEnumerable<Calibration> Of(ProbeId probe) => all[probe];

    /// <summary>The one that counts for readings of a time; null when there is none.</summary>
    public Calibration? At(ProbeId probe, Instant at) => all[probe].LastOrDefault(calibration => calibration.From <= at);

    /// <summary>A temperature as it is believed.</summary>
    public Temperature Corrected(ProbeId probe, Instant at, Temperature raw) =>
        At(probe, at) is { } calibration ? raw + calibration.Offset : raw;
}
