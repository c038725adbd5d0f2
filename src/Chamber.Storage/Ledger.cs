using Chamber.Core.Facts;
using Chamber.Storage.Files;
using NodaTime;

namespace Chamber.Storage;

/// <summary>
/// What people set up and wrote down. Every change is one transaction that is flushed to the disk; one that contradicts what
/// is known is refused whole, with <see cref="Core.RefusedException"/>.
/// </summary>
public sealed class Ledger
{
    private readonly Database database;
    private readonly FactBook book;
    private readonly Pen pen;

    internal Ledger(Database database, FactBook book, Pen pen)
    {
        (this.database, this.book, this.pen) = (database, book, pen);
        SetUp = new(database, pen);
        Seeds = new(database, pen);
        Batches = new(database, pen);
        Crops = new(database, pen);
        Alerts = new(database, pen);
        Notices = new(database);
        PushDevices = new(database);
        Settings = new(database, pen);
        Own = new(database);
    }

    /// <summary>The same for somebody who writes: what they write down has their name, the way and the time.</summary>
    /// <param name="author">Who, and by which way.</param>
    /// <param name="now">When.</param>
    public Ledger By(Author author, Instant now) => new(database, book, new(book, author, () => now));

    /// <summary>Writes facts down in one act: all of them, or none.</summary>
    public void Write(params IReadOnlyList<DatedFact> facts) => pen.Write(facts);

    /// <summary>Probes, spots, stations, calibrations.</summary>
    public SetUpLedger SetUp { get; }

    /// <summary>Lots and their tests.</summary>
    public SeedLedger Seeds { get; }

    /// <summary>Batches with their stays, looks, stages, losses and wettings.</summary>
    public BatchLedger Batches { get; }

    /// <summary>Crops that the user has added or changed.</summary>
    public CropLedger Crops { get; }

    /// <summary>Alerts as they were reported, and the times in which nothing could be heard.</summary>
    public AlertLedger Alerts { get; }

    /// <summary>Notices that wait to be sent.</summary>
    public NoticeOutbox Notices { get; }

    /// <summary>Browsers that asked for notices.</summary>
    public PushDevices PushDevices { get; }

    /// <summary>Notes about batches and spots, and limits chosen for one.</summary>
    public OwnLedger Own { get; }

    /// <summary>Small facts by name.</summary>
    public SettingLedger Settings { get; }
}
