namespace Chamber.Core.Climate;

/// <summary>A probe that somebody has set up.</summary>
/// <param name="Probe">The probe.</param>
/// <param name="HandRead">Somebody reads it: its silence is nobody's fault.</param>
/// <param name="Note">What else is known, or null.</param>
public sealed record ProbeEntry(Probe Probe, bool HandRead = false, string? Note = null);
