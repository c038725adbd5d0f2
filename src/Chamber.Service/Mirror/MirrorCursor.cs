using System.Text.Json;
using Chamber.Core.Climate;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Mirror;

/// <summary>A stretch of one probe to send once more, because something arrived late in it. Milliseconds since 1970, the end not
/// included.</summary>
internal sealed record AgainStretch(string Probe, long From, long To);

/// <summary>
/// How far a copy elsewhere has the readings. Kept in the ledger, so that a backup carries it along; written only after the other side has
/// said that it has them. What was sent and not noted is sent again, which changes nothing there.
/// </summary>
internal abstract record ReadingCursor
{
    private static readonly JsonSerializerOptions Form = new(JsonSerializerDefaults.Web);

    /// <summary>Which copy this is about.</summary>
    public string Target { get; init; } = "";

    /// <summary>The last note of late readings that was taken up.</summary>
    public long Late { get; init; }

    /// <summary>The newest reading of each probe that was sent.</summary>
    public IReadOnlyDictionary<string, long> Newest { get; init; } = new Dictionary<string, long>();

    /// <summary>What is to be sent once more.</summary>
    public IReadOnlyList<AgainStretch> Again { get; init; } = [];

    /// <summary>What the other side has taken since the beginning.</summary>
    public long Sent { get; init; }

    public long? SentAt { get; init; }

    /// <summary>The same for the journal.</summary>
    public JournalMark Mark() =>
        new(Late, Newest.ToDictionary(pair => new ProbeId(pair.Key), pair => Instant.FromUnixTimeMilliseconds(pair.Value)));

    /// <summary>Whether another has come as far; lists are compared by what they hold.</summary>
    public virtual bool IsAsFarAs(ReadingCursor other) => Late == other.Late && Sent == other.Sent && SentAt == other.SentAt
        && Newest.Count == other.Newest.Count && Newest.All(pair => other.Newest.TryGetValue(pair.Key, out var at) && at == pair.Value)
        && Again.SequenceEqual(other.Again);

    protected static T Load<T>(ChamberStore store, string setting, string target)
        where T : ReadingCursor, new()
    {
        var kept = store.Ledger.Settings.Get(setting) is { } text ? JsonSerializer.Deserialize<T>(text, Form) : null;
        return kept is { } known && known.Target == target ? known : new() { Target = target };
    }

    protected void Save<T>(ChamberStore store, string setting)
        where T : ReadingCursor => store.Ledger.Settings.Set(setting, JsonSerializer.Serialize((T)this, Form));
}

/// <summary>How far the mirror has come.</summary>
internal sealed record MirrorCursor : ReadingCursor
{
    public const string Setting = "mirror.cursor";

    /// <summary>The last alert that was sent.</summary>
    public long Alert { get; init; }

    /// <summary>Those that were sent as open and not yet as closed.</summary>
    public IReadOnlyList<long> AlertsOpen { get; init; } = [];

    /// <summary>The last hour for which stations, stays, suitability and forecasts were sent.</summary>
    public long? Hours { get; init; }

    /// <summary>The last hour for which warm-hours were sent; goes back when something arrives late.</summary>
    public long? WarmthHours { get; init; }

    /// <summary>The last fact whose consequences for hours that were sent are taken up; null in a cursor of an older version.</summary>
    public long? Facts { get; init; }

    /// <summary>Lines that it refused for good.</summary>
    public long SetAside { get; init; }

    public override bool IsAsFarAs(ReadingCursor other) => other is MirrorCursor mirror && base.IsAsFarAs(mirror)
        && AlertsOpen.SequenceEqual(mirror.AlertsOpen)
        && (Alert, Hours, WarmthHours, Facts, SetAside) == (mirror.Alert, mirror.Hours, mirror.WarmthHours, mirror.Facts, mirror.SetAside);

    public static MirrorCursor Load(ChamberStore store, string target) => Load<MirrorCursor>(store, Setting, target);

    public void Save(ChamberStore store) => Save<MirrorCursor>(store, Setting);
}
