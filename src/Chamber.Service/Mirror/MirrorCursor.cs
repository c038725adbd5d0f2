using System.Text.Json;
using Chamber.Core.Climate;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Mirror;

/// <summary>A stretch of one probe to send once more, because something arrived late in it. Milliseconds since 1970, the end not
/// included.</summary>
internal sealed record AgainStretch(string Probe, long From, long To);

/// <summary>
/// How far the mirror has come. Kept in the ledger, so that a backup carries it along; written only after the server has said
/// that it has the lines. What was sent and not noted is sent again, which changes nothing on the server.
/// </summary>
internal sealed record MirrorCursor
{
    public const string Setting = "mirror.cursor";

    private static readonly JsonSerializerOptions Form = new(JsonSerializerDefaults.Web);

    /// <summary>Which copy this is about.</summary>
    public string Target { get; init; } = "";

    /// <summary>The last note of late readings that was taken up.</summary>
    public long Late { get; init; }

    /// <summary>The newest reading of each probe that was sent.</summary>
    public IReadOnlyDictionary<string, long> Newest { get; init; } = new Dictionary<string, long>();

    /// <summary>What is to be sent once more.</summary>
    public IReadOnlyList<AgainStretch> Again { get; init; } = [];

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

    /// <summary>Lines that the server has taken since the beginning.</summary>
    public long Sent { get; init; }

    /// <summary>Lines that it refused for good.</summary>
    public long SetAside { get; init; }

    public long? SentAt { get; init; }

    public static MirrorCursor Load(ChamberStore store, string target)
    {
        var kept = store.Ledger.Settings.Get(Setting) is { } text ? JsonSerializer.Deserialize<MirrorCursor>(text, Form) : null;
        return kept is { } known && known.Target == target ? known : new() { Target = target };
    }

    public void Save(ChamberStore store) => store.Ledger.Settings.Set(Setting, JsonSerializer.Serialize(this, Form));

    /// <summary>The same for the journal.</summary>
    public JournalMark Mark() =>
        new(Late, Newest.ToDictionary(pair => new ProbeId(pair.Key), pair => Instant.FromUnixTimeMilliseconds(pair.Value)));
}
