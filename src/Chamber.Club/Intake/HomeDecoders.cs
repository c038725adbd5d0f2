using Chamber.Club.Store;
using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Forwarding;
using NodaTime;

namespace Chamber.Club.Intake;

/// <summary>Turns messages of many homes into what is kept of each. A home has its own decoder, which knows its probes and the mappings
/// that are set for it. Belongs to one thread.</summary>
internal sealed class HomeDecoders(ClubDatabase database, TimeProvider time)
{
    // What is set is asked for so often.
    private static readonly TimeSpan Follows = TimeSpan.FromSeconds(10);

    // Whoever began to write before may end after.
    private static readonly Duration Overlap = Duration.FromMinutes(1);

    private readonly Dictionary<string, (int Home, MessageDecoder Decoder)> known = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> settings = new(StringComparer.Ordinal);
    private Instant settingsTo = NodaConstants.UnixEpoch;
    private long? followed;

    /// <summary>Messages for a home that there is not, or under no home at all: they are let go.</summary>
    public long Strangers { get; private set; }

    /// <summary>What the messages hold, home by home.</summary>
    public async Task<List<HomeBatch>> DecodeAsync(IReadOnlyList<Arrived> messages, CancellationToken cancel)
    {
        var named = new List<(Arrived Message, string Home, string Topic)>(messages.Count);
        foreach (var message in messages)
        {
            if (HomeTopic.TrySplit(message.Topic, out var home, out var topic))
            {
                named.Add((message, home, topic));
            }
        }

        await FollowAsync(cancel);
        await LearnAsync(named.Select(one => one.Home).Distinct().Where(name => !known.ContainsKey(name)).ToList(), cancel);
        var batches = named.Where(one => known.ContainsKey(one.Home)).GroupBy(one => one.Home).Select(Decoded).ToList();
        Strangers += messages.Count - named.Count(one => known.ContainsKey(one.Home));
        return batches;
    }

    /// <summary>A message that cannot be kept, as what is kept in its place.</summary>
    public HomeBatch? Aside(Arrived message) =>
        HomeTopic.TrySplit(message.Topic, out var name, out var topic) && known.TryGetValue(name, out var home)
            ? new(home.Home, [], [new(message.At, topic, null, null, RefusalReason.NotStored, "", Fixes.For(RefusalReason.NotStored))], [])
            : null;

    /// <summary>The numbers of the packets among some messages, home by home: once they are kept, their homes want to know.</summary>
    public IEnumerable<IGrouping<string, string>> PacketsOf(IEnumerable<Arrived> messages) => messages
        .Select(message => HomeTopic.TrySplit(message.Topic, out var home, out var topic) && known.ContainsKey(home)
            && ClubTopics.TryNumber(topic, out var number) ? (Home: home, Number: number) : default)
        .Where(one => one.Number is not null).GroupBy(one => one.Home, one => one.Number);

    private HomeBatch Decoded(IGrouping<string, (Arrived Message, string Home, string Topic)> messages)
    {
        var (home, decoder) = known[messages.Key];
        var into = new DecodedBatch();
        var (forwarded, refused) = (new List<Reading>(), new List<Refusal>());
        foreach (var (message, _, topic) in messages)
        {
            if (ClubTopics.TryNumber(topic, out _))
            {
                var (readings, refusal) = ForwardedPacket.Read(message.AtHome(topic));
                forwarded.AddRange(readings);
                refused.AddRange(refusal is null ? [] : [refusal]);
            }
            else
            {
                decoder.Decode(message.AtHome(topic), into);
            }
        }

        return new(home, [.. into.Readings, .. forwarded], [.. into.Refusals, .. refused], into.LastKnown);
    }

    private async Task LearnAsync(List<string> names, CancellationToken cancel)
    {
        if (names.Count > 0)
        {
            foreach (var (name, home) in await database.HomesAsync(names, cancel))
            {
                known[name] = (home, Decoder(name));
            }
        }
    }

    // A home of which something else is set gets another decoder, which learns the units of its probes again.
    private async Task FollowAsync(CancellationToken cancel)
    {
        if (followed is { } last && time.GetElapsedTime(last) < Follows)
        {
            return;
        }

        followed = time.GetTimestamp();
        var from = settingsTo - Overlap;
        foreach (var (name, text, changed) in await database.SettingsSinceAsync(from, cancel))
        {
            settingsTo = Instant.Max(settingsTo, changed);
            if (settings.TryGetValue(name, out var before) && before == text)
            {
                continue;
            }

            settings[name] = text;
            if (known.TryGetValue(name, out var home))
            {
                known[name] = (home.Home, Decoder(name));
            }
        }
    }

    // Mappings were checked when they were set; what this version cannot read counts for nothing.
    private MessageDecoder Decoder(string name) => new(
        settings.TryGetValue(name, out var text) && SettingRows.Of(text).Mappings is { Count: > 0 } own
            && TopicMap.TryCreate(own, out var map, out _) ? map : TopicMap.Default);
}
