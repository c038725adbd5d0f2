namespace Chamber.Service.Health;

/// <summary>How a copy elsewhere is: the mirror, or what a club has.</summary>
/// <param name="UnsentReadings">Readings that it has not got.</param>
/// <param name="BehindHours">How old the oldest of them is, h; null when there is none.</param>
/// <param name="Trouble">What keeps it from getting them; null when nothing does.</param>
internal sealed record CopyHealth(long UnsentReadings, double? BehindHours, string? Trouble);

/// <summary>How the copies are; each null where there is none.</summary>
internal sealed record CopiesHealth(Func<CopyHealth?> Mirror, Func<CopyHealth?> Club);
