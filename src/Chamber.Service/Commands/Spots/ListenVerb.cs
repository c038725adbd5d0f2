using System.CommandLine;
using System.Globalization;
using System.Text.Json;
using Chamber.Core;
using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Listening;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Configuration;
using Chamber.Service.Home.Writing;
using NodaTime;

namespace Chamber.Service.Commands.Spots;

/// <summary>What speaks on the broker, also what no mapping knows, and how it would be read.</summary>
internal static class ListenVerb
{
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
                var broker = new BrokerTopics(invocation.Data, invocation.Settings);
                var answer = await broker.Listen(time, invocation.CommandContext.Clock, invocation.Cancel);
                var taken = Take(invocation, broker, answer, invocation.Parse.GetValue(take) ?? []);
                invocation.Answer(answer, screen => Show(screen, answer, taken));
            });
    }

    private static List<TopicMapping> Take(Invocation invocation, BrokerTopics broker, ListenAnswer answer, string[] topics)
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
            broker.Add(taken, changes => SettingsFile.Change(invocation.Data, [.. invocation.CommandContext.Variables], changes));
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
                + "reads it from its next message on.");
            return;
        }

        if (answer.Topics.FirstOrDefault(topic => topic.Proposal is not null) is { Proposal: { } mapping } first)
        {
            screen.Say();
            screen.Say($"To read {first.Topic}: chamber listen --take {first.Topic}");
            screen.Say("or add to \"mappings\" in chamber.json:");
            screen.AsItIs(JsonSerializer.Serialize(mapping, BrokerTopics.Written));
        }
    }

    private static string Words(TopicAnswer topic) => topic switch
    {
        { IsRead: true } => "read already",
        { Proposal: null } => $"nothing that Chamber reads: {topic.Payload}",
        _ => string.Join(", ", topic.Found.Select(field => $"{Choice.Word(field.Quantity)} {field.Words}{At(field)}"))
            + (topic.Unsure.Count > 0 ? "; the unit is a guess, so compare it with a thermometer" : ""),
    };

    private static string At(FoundField field) => field.JsonPointer.Length > 0 ? $" at {field.JsonPointer}" : "";
}
