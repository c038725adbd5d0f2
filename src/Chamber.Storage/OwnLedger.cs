using Chamber.Core.Facts;
using Chamber.Storage.Files;
using Chamber.Storage.Records;

namespace Chamber.Storage;

/// <summary>What people have noted of batches and spots, and limits of alerts that they have chosen for one.</summary>
public sealed class OwnLedger
{
    private readonly Database database;

    internal OwnLedger(Database database) => this.database = database;

    /// <summary>Every note, in order of time.</summary>
    public IReadOnlyList<Note> Notes() => database.Read(OwnRows.Notes);

    /// <summary>Every limit that somebody has chosen for one batch or spot.</summary>
    public IReadOnlyList<OwnLimits> Limits() => database.Read(OwnRows.Limits);
}
