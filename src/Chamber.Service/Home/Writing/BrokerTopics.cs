using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;
using Chamber.Core.Climate;
using Chamber.Mqtt.Connection;
using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Listening;
using Chamber.Service.Configuration;

namespace Chamber.Service.Home.Writing;

/// <summary>What was heard on the broker.</summary>
/// <param name="Topics">Each topic.</param>
/// <param name="LeftOut">Messages on further topics than can be told apart.</param>
public sealed record ListenAnswer(IReadOnlyList<TopicAnswer> Topics, long LeftOut);

/// <summary>A topic on which something was said.</summary>
/// <param name="Topic">Its name.</param>
/// <param name="Messages">How many messages were heard.</param>
/// <param name="IsRead">Whether a mapping knows it.</param>
/// <param name="Payload">The beginning of the last message.</param>
/// <param name="Proposal">A mapping that would read it; null where there is none.</param>
/// <param name="Found">What that would read.</param>
/// <param name="Unsure">Of which quantities the unit is a guess.</param>
/// <param name="Numbers">Every number in the last message, with where it stands (RFC 6901).</param>
public sealed record TopicAnswer(string Topic, long Messages, bool IsRead, string Payload, TopicMapping? Proposal,
    IReadOnlyList<FoundField> Found, IReadOnlyList<Quantity> Unsure, IReadOnlyList<NumberAt> Numbers)
{
    private const int PayloadShown = 120;

    internal static TopicAnswer Of(HeardTopic heard, TopicMap map)
    {
        var isRead = map.Knows(heard.Topic);
        var proposal = isRead || !heard.IsWhole ? null : MappingProposal.Of(heard.Topic, heard.Payload);
        var text = OneLine.Of(Encoding.UTF8.GetString(heard.Payload.Span[..Math.Min(heard.Payload.Length, PayloadShown)]));
        return new(heard.Topic, heard.Messages, isRead, text, proposal?.Mapping, proposal?.Found ?? [], proposal?.Unsure ?? [],
            isRead || !heard.IsWhole ? [] : MappingProposal.Numbers(heard.Payload));
    }
}

/// <summary>Listens to everything on the broker, and adds mappings to chamber.json: the same for the command line, the page and the
/// API.</summary>
/// <param name="data">Where chamber.json is.</param>
/// <param name="settings">The settings in force.</param>
internal sealed class BrokerTopics(DataDirectory data, Settings settings)
{
    // A mapping as one would write it: what is not said is left out.
    public static JsonSerializerOptions Written { get; } = new(SettingsText.Options)
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingDefault,
    };

    /// <exception cref="IOException">The broker cannot be joined; the message says why.</exception>
    public async Task<ListenAnswer> Listen(TimeSpan length, TimeProvider clock, CancellationToken cancel)
    {
        var (heard, fault) = await BrokerEar.ListenAsync(Address(), length, clock, cancel);
        if (fault is not null)
        {
            throw new IOException(fault);
        }

        var map = TopicMap.Create(SettingsFile.LoadFile(data).Mappings);
        return new([.. heard.Topics.Select(topic => TopicAnswer.Of(topic, map))], heard.LeftOut);
    }

    /// <summary>Adds mappings to chamber.json; a running service reads them from now on.</summary>
    /// <param name="mappings">Those to add.</param>
    /// <param name="change">Changes chamber.json, or refuses.</param>
    /// <exception cref="BadInputException">One is wrong, or its topic is read already.</exception>
    public void Add(IReadOnlyList<TopicMapping> mappings, Action<IEnumerable<(string Key, JsonNode? Value)>> change)
    {
        var before = SettingsFile.LoadFile(data).Mappings;
        if (mappings.FirstOrDefault(one => before.Any(known => known.Topic == one.Topic)) is { } twice)
        {
            throw BadInputException.Contradicts($"{twice.Topic} has a mapping already: change it in chamber.json.", "topic");
        }

        IReadOnlyList<TopicMapping> all = [.. before, .. mappings];
        if (!TopicMap.TryCreate(all, out _, out var faults))
        {
            throw BadInputException.In("topic", faults[0]);
        }

        change([("mappings", JsonSerializer.SerializeToNode(all, Written))]);
    }

    private BrokerAddress Address()
    {
        var broker = settings.Broker;
        if (!broker.Own)
        {
            return BrokerParts.Joined(broker, data) with { ClientId = $"{broker.ClientId}-listen" };
        }

        // The plain listener of this machine asks for no password.
        var listeners = BrokerParts.Own(broker, data).Listeners;
        var own = listeners.OrderBy(listener => listener.CertificateFile is null ? 0 : 1)
            .ThenBy(listener => System.Net.IPAddress.IsLoopback(listener.Address) ? 0 : 1).First();
        return new() { Host = "127.0.0.1", Port = own.Port, Tls = own.CertificateFile is not null, ClientId = "chamber-listen" };
    }
}
