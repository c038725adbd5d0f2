using Chamber.Storage.Files;

namespace Chamber.Storage;

/// <summary>
/// What people set up and recorded. Every change is one transaction that is flushed to the disk; one that contradicts what
/// is known is refused whole, with <see cref="LedgerRefusedException"/>.
/// </summary>
public sealed class Ledger
{
    internal Ledger(Database database)
    {
        Places = new(database);
        Seeds = new(database);
        Batches = new(database);
        Crops = new(database);
        Alerts = new(database);
        Notices = new(database);
        PushDevices = new(database);
        Settings = new(database);
    }

    /// <summary>Probes, spots, stations, calibrations.</summary>
    public PlaceLedger Places { get; }

    /// <summary>Lots and their tests.</summary>
    public SeedLedger Seeds { get; }

    /// <summary>Batches with their stays, looks, stages, losses and wettings.</summary>
    public BatchLedger Batches { get; }

    /// <summary>Crops that the user has added or changed.</summary>
    public CropLedger Crops { get; }

    /// <summary>Alerts as they were told, and the times in which nothing could be heard.</summary>
    public AlertLedger Alerts { get; }

    /// <summary>Notices that wait to be sent.</summary>
    public NoticeOutbox Notices { get; }

    /// <summary>Browsers that asked for notices.</summary>
    public PushDevices PushDevices { get; }

    /// <summary>Small facts by name.</summary>
    public SettingLedger Settings { get; }
}
