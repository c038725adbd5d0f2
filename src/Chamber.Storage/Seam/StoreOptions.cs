namespace Chamber.Storage.Seam;

/// <summary>What a commit of readings survives. What the grower records is always flushed to the disk.</summary>
public enum Durability
{
    /// <summary>A power cut: each commit waits until the disk says that it has it.</summary>
    PowerLoss,

    /// <summary>The end of the process, at any moment and by any signal; a power cut can lose the last seconds of readings, and nothing
    /// else.</summary>
    ProcessEnd,
}

/// <summary>How the data file is opened. The defaults suit a home.</summary>
public sealed record StoreOptions
{
    /// <summary>Open for reading only: nothing is created, migrated or written.</summary>
    public bool ReadOnly { get; init; }

    /// <summary>What a commit of readings survives.</summary>
    public Durability Readings { get; init; } = Durability.PowerLoss;

    /// <summary>How long to wait for another process that writes; 5 s by default.</summary>
    public TimeSpan Patience { get; init; } = TimeSpan.FromSeconds(5);

    /// <summary>Refusals kept raw; older ones are let go, their counts stay.</summary>
    public int RefusalsMax { get; init; } = 10_000;

    /// <summary>Probes that the journal takes in; readings of further ones are refused and counted.</summary>
    public int ProbesMax { get; init; } = 4096;

    /// <summary>What says when something is written down, where whoever writes does not say it.</summary>
    public TimeProvider Clock { get; init; } = TimeProvider.System;

    /// <summary>The file may grow to this many pages of 4 KiB; null is no limit.</summary>
    public int? PagesMax { get; init; }
}
