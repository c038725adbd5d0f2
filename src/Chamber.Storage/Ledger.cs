using Chamber.Core.Facts;
using Chamber.Storage.Files;
using Chamber.Storage.Writing;
using NodaTime;

namespace Chamber.Storage;

/// <summary>What the data file keeps beside facts and readings, and the pen with which facts are written in it.</summary>
public sealed class Ledger
{
    private readonly HomePen pen;

    internal Ledger(Database database, HomePen pen, AlertLedger alerts)
    {
        (this.pen, Alerts) = (pen, alerts);
        Notices = new(database);
        PushDevices = new(database);
        Settings = new(database);
    }

    /// <summary>The pen of somebody who writes: what they write down has their name, the way and the time.</summary>
    /// <param name="author">Who, and by which way.</param>
    /// <param name="now">When.</param>
    public HomePen By(Author author, Instant now) => pen.By(author, now);

    /// <summary>Probes, spots, stations, calibrations, as the program writes them.</summary>
    public SetUpLedger SetUp => pen.SetUp;

    /// <summary>Lots and their tests, as the program writes them.</summary>
    public SeedLedger Seeds => pen.Seeds;

    /// <summary>Batches, as the program writes them.</summary>
    public BatchLedger Batches => pen.Batches;

    /// <summary>Crops of the user, as the program writes them.</summary>
    public CropLedger Crops => pen.Crops;

    /// <summary>Alerts as they were reported, and the times in which nothing could be heard.</summary>
    public AlertLedger Alerts { get; }

    /// <summary>Notices that wait to be sent.</summary>
    public NoticeOutbox Notices { get; }

    /// <summary>Browsers that asked for notices.</summary>
    public PushDevices PushDevices { get; }

    /// <summary>Small things by name.</summary>
    public SettingLedger Settings { get; }
}
