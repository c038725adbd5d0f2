namespace Chamber.Service.Access;

/// <summary>What a try to sign in is counted by.</summary>
internal enum TryKind
{
    /// <summary>The address that it came from.</summary>
    Address,

    /// <summary>The name that was typed.</summary>
    Name,

    /// <summary>A browser in which that person has signed in before.</summary>
    Browser,
}

/// <summary>One count of tries.</summary>
internal readonly record struct TryKey(TryKind Kind, string Text)
{
    public static TryKey Address(string address) => new(TryKind.Address, address);

    public static TryKey Name(string name) => new(TryKind.Name, name.ToUpperInvariant());

    public static TryKey Browser(string browser) => new(TryKind.Browser, browser);
}

/// <summary>
/// Slows down guessing: after <see cref="FailuresMax"/> tries in a row that did not succeed, no further one is looked at for
/// <see cref="Pause"/>. A try is counted when it begins, so that many at the same moment are no more than that many. Remembers at most
/// <see cref="EntriesMax"/> counts of each kind; when that is full the oldest goes.
/// </summary>
internal sealed class Lockout(TimeProvider time)
{
    public const int FailuresMax = 5;
    public const int EntriesMax = 1000;

    public static readonly TimeSpan Pause = TimeSpan.FromMinutes(15);

    private readonly Lock gate = new();
    private readonly Dictionary<TryKey, Entry> entries = [];

    /// <summary>Begins a try: it counts as failed until it has <see cref="Succeeded"/>.</summary>
    /// <returns>Until when it may not be made, and then it is not counted; null when it may.</returns>
    public DateTimeOffset? Begin(params ReadOnlySpan<TryKey> keys)
    {
        lock (gate)
        {
            var now = time.GetUtcNow();
            DateTimeOffset? until = null;
            foreach (var key in keys)
            {
                if (entries.TryGetValue(key, out var entry) && entry.Failures >= FailuresMax && entry.Last + Pause > now
                    && (until is null || entry.Last + Pause > until))
                {
                    until = entry.Last + Pause;
                }
            }

            if (until is null)
            {
                foreach (var key in keys)
                {
                    Count(key, now);
                }
            }

            return until;
        }
    }

    public void Succeeded(params ReadOnlySpan<TryKey> keys)
    {
        lock (gate)
        {
            foreach (var key in keys)
            {
                entries.Remove(key);
            }
        }
    }

    private void Count(TryKey key, DateTimeOffset now)
    {
        var failures = entries.TryGetValue(key, out var entry) && entry.Last + Pause > now ? entry.Failures : 0;
        entries[key] = new(failures + 1, now);
        if (entries.Keys.Count(other => other.Kind == key.Kind) > EntriesMax)
        {
            entries.Remove(entries.Where(item => item.Key.Kind == key.Kind).MinBy(item => item.Value.Last).Key);
        }
    }

    private readonly record struct Entry(int Failures, DateTimeOffset Last);
}
