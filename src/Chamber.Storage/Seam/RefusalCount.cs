using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Storage.Seam;

/// <summary>How often something was refused, ever.</summary>
/// <param name="Probe">Whose it was, where that was known.</param>
/// <param name="Reason">Why.</param>
/// <param name="Count">How often.</param>
/// <param name="LastAt">When the last one arrived.</param>
public sealed record RefusalCount(ProbeId? Probe, RefusalReason Reason, long Count, Instant LastAt);
