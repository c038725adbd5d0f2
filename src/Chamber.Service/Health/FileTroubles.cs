using System.Collections.Concurrent;
using Chamber.Service.Notify;

namespace Chamber.Service.Health;

/// <summary>Files of the home that could not be used at the start, with what is done instead and the fix: each one sentence or
/// two.</summary>
internal sealed class FileTroubles
{
    private readonly ConcurrentQueue<string> all = new();

    /// <summary>All of them, in order of finding.</summary>
    public IReadOnlyCollection<string> All => all;

    /// <summary>What people must know; null when every file is good.</summary>
    public HomeTrouble? Trouble => all.IsEmpty ? null : new("A file of the home cannot be used", string.Join(' ', all));

    public void Add(string trouble) => all.Enqueue(trouble);
}
