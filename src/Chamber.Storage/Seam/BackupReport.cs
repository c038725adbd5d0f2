namespace Chamber.Storage.Seam;

/// <summary>How much a data file holds.</summary>
public sealed record StoreCounts(long Readings, long Rolled, long Batches, long Lots);

/// <summary>A data file that was read through and found whole.</summary>
/// <param name="Path">The file.</param>
/// <param name="Version">Its version.</param>
/// <param name="Counts">How much it holds.</param>
/// <param name="Bytes">Its size.</param>
public sealed record BackupReport(string Path, int Version, StoreCounts Counts, long Bytes);
