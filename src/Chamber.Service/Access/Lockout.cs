namespace Chamber.Service.Access;

/// <summary>
/// Slows down guessing: after <see cref="FailuresMax"/> wrong passwords in a row from one address or for one name, neither may
/// try again for <see cref="Pause"/>. Remembers at most <see cref="EntriesMax"/> of them; when that is full the oldest goes.
/// </summary>
internal sealed class Lockout(TimeProvider time)
{
    public const int FailuresMax = 5;
    public const int EntriesMax = 1000;

    public static readonly TimeSpan Pause = TimeSpan.FromMinutes(15);

    private readonly Lock gate = new();
    private readonly Dictionary<string, Entry> entries = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Until when this key may not try; null when it may.</summary>
    public DateTimeOffset? LockedUntil(string key)
    {
        lock (gate)
        {
            return entries.TryGetValue(key, out var entry) && entry.Failures >= FailuresMax && entry.Last + Pause > time.GetUtcNow()
                ? entry.Last + Pause
                : null;
        }
    }

    public void Failed(string key)
    {
        lock (gate)
        {
            var now = time.GetUtcNow();
            var failures = entries.TryGetValue(key, out var entry) && entry.Last + Pause > now ? entry.Failures : 0;
            entries[key] = new(failures + 1, now);
            if (entries.Count > EntriesMax)
            {
                entries.Remove(entries.MinBy(item => item.Value.Last).Key);
            }
        }
    }

    public void Succeeded(string key)
    {
        lock (gate)
        {
            entries.Remove(key);
        }
    }

    private readonly record struct Entry(int Failures, DateTimeOffset Last);
}
