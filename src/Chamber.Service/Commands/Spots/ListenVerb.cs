using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using Chamber.Core;
using Chamber.Core.Climate;
using Chamber.Mqtt.Connection;
using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Listening;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Configuration;
using NodaTime;

namespace Chamber.Service.Commands.Spots;

/// <summary>What speaks on the broker, also what no mapping knows, and how it would be read.</summary>
internal static class ListenVerb
{
    private const int PayloadShown = 120;

    // A mapping as one would write it: what is not said is left out.
    private static readonly JsonSerializerOptions Written = new(SettingsText.Options)
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
    };

    public static Verb Create()
    {
        var length = Typed.Option<Duration?>("--for", "TIME", "For how long. Default: 20s.",
            text => Core.Bounds.Listening.Require(DurationText.Parse(text)));
        var take = new Option<string[]>("--take") { HelpName = "TOPIC",
            Description = "Add the mapping that is proposed for this topic to chamber.json." };
        return new Verb("listen", "Shows what speaks on the broker, also what no mapping knows, and proposes how to read it.",
            "chamber listen", "chamber listen --for 2min --take flat/kitchen/climate") { length, take }
            .Does(async invocation =>
            {
                var time = (invocation.Parse.GetValue(length) ?? Duration.FromSeconds(20)).ToTimeSpan();
                var (heard, fault) = await BrokerEar.ListenAsync(Address(invocation), time, invocation.CommandContext.Clock,
                    invocation.Cancel);
                if (fault is not null)
                {
                    throw new IOException(fault);
                }

                var map = TopicMap.Create(invocation.Settings.Mappings);
                var answer = new ListenAnswer([.. heard.Topics.Select(topic => TopicAnswer.Of(topic, map))], heard.LeftOut);
                var taken = Take(invocation, answer, invocation.Parse.GetValue(take) ?? []);
                invocation.Answer(answer, screen => Show(screen, answer, taken));
            });
    }

    private static BrokerAddress Address(Invocation invocation)
    {
        var broker = invocation.Settings.Broker;
        if (!broker.Own)
        {
            return BrokerParts.Joined(broker, invocation.Data) with { ClientId = $"{broker.ClientId}-listen" };
        }

        // The plain listener of this machine asks for no password.
        var listeners = BrokerParts.Own(broker, invocation.Data).Listeners;
        var own = listeners.OrderBy(listener => listener.CertificateFile is null ? 0 : 1)
            .ThenBy(listener => System.Net.IPAddress.IsLoopback(listener.Address) ? 0 : 1).First();
        return new() { Host = "127.0.0.1", Port = own.Port, Tls = own.CertificateFile is not null, ClientId = "chamber-listen" };
    }

    private static List<TopicMapping> Take(Invocation invocation, ListenAnswer answer, string[] topics)
    {
        var taken = topics.Select(name => answer.Topics.FirstOrDefault(topic => topic.Topic == name) switch
        {
            null => throw new BadInputException($"Nothing was heard on {name}.{NearNames.Question(name,
                answer.Topics.Select(topic => topic.Topic))} Listen for longer: --for 10min"),
            { IsRead: true } => throw new BadInputException($"{name} is read already."),
            { Proposal: { } proposal } => proposal,
            _ => throw new BadInputException($"Nothing on {name} looks like a temperature, humidity or moisture: write its mapping "
                + "yourself (docs/topics.md)."),
        }).DistinctBy(mapping => mapping.Topic).ToList();
        if (taken.Count > 0)
        {
            var all = SettingsFile.LoadFile(invocation.Data).Mappings.Concat(taken);
            SettingsFile.Change(invocation.Data, [.. invocation.CommandContext.Variables],
                [("mappings", JsonSerializer.SerializeToNode(all, Written))]);
        }

        return taken;
    }

    private static void Show(Screen screen, ListenAnswer answer, List<TopicMapping> taken)
    {
        if (answer.Topics.Count == 0)
        {
            screen.Headline("Nothing was heard. Sensors may speak more rarely: chamber listen --for 10min");
            return;
        }

        var read = answer.Topics.Count(topic => topic.IsRead);
        screen.Headline($"{CountText.Of(answer.Topics.Count, "topic")} heard, {read} of them read.");
        screen.Table(["Topic", ">Messages", "What would be read"], answer.Topics.Select(topic => new[]
        {
            topic.Topic, topic.Messages.ToString("#,0", CultureInfo.InvariantCulture), Words(topic),
        }));
        if (answer.LeftOut > 0)
        {
            screen.Warn($"{CountText.Of(answer.LeftOut, "message")} on further topics are left out.");
        }

        if (taken.Count > 0)
        {
            screen.Say($"Added to chamber.json: {string.Join(", ", taken.Select(mapping => mapping.Topic))}. A running service "
                + "reads it when it is started again.");
            return;
        }

        if (answer.Topics.FirstOrDefault(topic => topic.Proposal is not null) is { Proposal: { } mapping } first)
        {
            screen.Say();
            screen.Say($"To read {first.Topic}: chamber listen --take {first.Topic}");
            screen.Say("or add to \"mappings\" in chamber.json:");
            screen.AsItIs(JsonSerializer.Serialize(mapping, Written));
        }
    }

    private static string Words(TopicAnswer topic) => topic switch
    {
        { IsRead: true } => "read already",
        { Proposal: null } => $"nothing that Chamber reads: {topic.Payload}",
        _ => string.Join(", ", topic.Found.Select(field => string.Create(CultureInfo.InvariantCulture,
            $"{Choice.Word(field.Quantity)} {field.Value:0.##} {field.Unit}{At(field)}")))
            + (topic.Unsure.Count > 0 ? "; the unit is a guess, so compare it with a thermometer" : ""),
    };

    private static string At(FoundField field) => field.JsonPointer.Length > 0 ? $" at {field.JsonPointer}" : "";

    /// <summary>What was heard, for programs.</summary>
    private sealed record ListenAnswer(IReadOnlyList<TopicAnswer> Topics, long LeftOut);

    /// <summary>A topic, for programs.</summary>
    /// <param name="Topic">Its name.</param>
    /// <param name="Messages">How many messages were heard.</param>
    /// <param name="IsRead">Whether a mapping knows it.</param>
    /// <param name="Payload">The beginning of the last message.</param>
    /// <param name="Proposal">A mapping that would read it; null where there is none.</param>
    /// <param name="Found">What that would read.</param>
    /// <param name="Unsure">Of which quantities the unit is a guess.</param>
    private sealed record TopicAnswer(string Topic, long Messages, bool IsRead, string Payload, TopicMapping? Proposal,
        IReadOnlyList<FoundField> Found, IReadOnlyList<Quantity> Unsure)
    {
        public static TopicAnswer Of(HeardTopic heard, TopicMap map)
        {
            var isRead = map.Knows(heard.Topic);
            var proposal = isRead || !heard.IsWhole ? null : MappingProposal.Of(heard.Topic, heard.Payload);
            var text = OneLine.Of(Encoding.UTF8.GetString(heard.Payload.Span[..Math.Min(heard.Payload.Length, PayloadShown)]));
            return new(heard.Topic, heard.Messages, isRead, text, proposal?.Mapping, proposal?.Found ?? [], proposal?.Unsure ?? []);
        }
    }
}
