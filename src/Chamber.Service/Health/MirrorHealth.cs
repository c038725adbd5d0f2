namespace Chamber.Service.Health;

/// <summary>How the mirror is.</summary>
/// <param name="UnsentReadings">Readings that it has not got.</param>
/// <param name="BehindHours">How old the oldest of them is, h; null when there is none.</param>
/// <param name="Trouble">What keeps it from getting them; null when nothing does.</param>
internal sealed record MirrorHealth(long UnsentReadings, double? BehindHours, string? Trouble);
