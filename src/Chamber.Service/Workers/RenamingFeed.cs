using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using Chamber.Storage;

namespace Chamber.Service.Workers;

/// <summary>Notices that a spot, a probe or a batch has got another name, or its former one back: what the watch knows of it is under the
/// name before.</summary>
internal sealed class RenamingFeed(FactBook book)
{
    private long seen;

    /// <summary>What was written down until now is known.</summary>
    public void Begin() => seen = book.Last;

    /// <summary>Whether that has happened since this was asked last.</summary>
    public bool HasRenamed()
    {
        var written = book.Since(seen);
        seen = written is [.., var last] ? last.Number : seen;
        return written.Any(entry => IsRenaming(entry.Fact));
    }

    private bool IsRenaming(Fact fact) => fact switch
    {
        Withdrawn { Entry: var entry } => IsRenaming(book.Since(entry - 1)[0].Fact),
        Corrected { Right: var right } => IsRenaming(right),
        _ => fact is SpotRenamed or ProbeRenamed or BatchRenamed,
    };
}
