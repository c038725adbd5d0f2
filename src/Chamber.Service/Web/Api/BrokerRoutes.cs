using Chamber.Mqtt.Decoding;
using Chamber.Service.Configuration;
using Chamber.Service.Home.Writing;
using Chamber.Service.Web.Views;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Chamber.Service.Web.Api;

/// <summary>What speaks on the broker, and how it is to be read.</summary>
internal static class BrokerRoutes
{
    private static readonly Duration UsualLength = Duration.FromSeconds(10);
    private static readonly Duration LengthMax = Duration.FromMinutes(2);

    public static void Map(RouteGroupBuilder writes)
    {
        writes = writes.MapGroup("/broker").WithTags("Probes");
        writes.MapPost("/listen", (PageHome page, ListenRequest? asked, CancellationToken cancel) => Listen(page, asked, cancel))
            .WithName("Listen").WithSummary("Listens for a while to everything on the broker, also to what no mapping knows, and proposes "
            + "how to read it.");
        writes.MapPost("/mappings", (PageHome page, SettingsInForce settings, TopicMapping mapping) => Add(page, settings, mapping))
            .WithName("AddMapping").WithSummary("Adds a mapping to chamber.json; it is in force from now on.");
    }

    private static async Task<ListenAnswer> Listen(PageHome page, ListenRequest? asked, CancellationToken cancel)
    {
        var length = asked?.For is { } typed ? BadInputException.In("for", () => Core.Bounds.Listening.Require(DurationText.Parse(typed)))
            : UsualLength;
        try
        {
            return await new BrokerTopics(page.Data, page.Settings)
                .Listen(Duration.Min(length, LengthMax).ToTimeSpan(), TimeProvider.System, cancel);
        }
        catch (IOException fault)
        {
            throw BadInputException.Contradicts(fault.Message);
        }
    }

    private static Created<TopicMapping> Add(PageHome page, SettingsInForce settings, TopicMapping mapping)
    {
        new BrokerTopics(page.Data, page.Settings).Add([mapping], settings.Change);
        return TypedResults.Created((string?)null, mapping);
    }
}

/// <summary>How long to listen.</summary>
/// <param name="For">As 10s or 1min; 10 seconds by default, 2 minutes at most.</param>
internal sealed record ListenRequest(string? For = null);
