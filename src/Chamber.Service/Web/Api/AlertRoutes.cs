using Chamber.Core.Alerts;
using Chamber.Service.Home.Watching;
using Chamber.Service.Home.Writing;
using Chamber.Service.Web.Views;
using Chamber.Storage.Writing;
using NodaTime;

namespace Chamber.Service.Web.Api;

/// <summary>Alerts, and what people do with them.</summary>
internal static class AlertRoutes
{
    private static readonly Duration Lately = Duration.FromDays(30);

    public static void Map(RouteGroupBuilder reads, RouteGroupBuilder writes)
    {
        reads = reads.MapGroup("/alerts").WithTags("Alerts");
        writes = writes.MapGroup("/alerts").WithTags("Alerts").ProducesProblem(StatusCodes.Status404NotFound);
        reads.MapGet("", (PageHome page, bool? all) => All(page, all ?? false))
            .WithName("Alerts")
                .WithSummary("Open alerts with what to do, what costs most by waiting first; with all=true those closed in the last 30 "
                + "days too.").ProducesProblem(StatusCodes.Status400BadRequest);
        reads.MapGet("/{number:long}", (PageHome page, long number) => Require(page, number)).WithName("Alert").WithSummary("One alert.")
            .ProducesProblem(StatusCodes.Status404NotFound);
        writes.MapPost("/{number:long}/seen", (PageHome page, HttpContext context, long number, SeenRequest? seen) => SeeAsync(page, number,
            BadInputException.In("by", () => Core.Bounds.PersonName.Require(seen?.By)) ?? context.User.Identity?.Name ?? "somebody"))
            .WithName("SeeAlert").WithSummary("Somebody has seen it.");
        writes.MapPost("/{number:long}/mute", (PageHome page, long number, MuteRequest mute) => MuteAsync(page, number, mute))
            .WithName("MuteAlert").WithSummary("Keeps it quiet for a while; danger breaks through.");
    }

    private static List<AlertAnswer> All(PageHome page, bool all)
    {
        var alerts = new HomeAlerts(page.Read(), Style(page));
        return [.. (all ? alerts.All(page.Now - Lately) : alerts.Open()).Select(one => one.Words)];
    }

    private static AlertAnswer Require(PageHome page, long number) =>
        AtHand.Of(page.Read().Records.AlertAsync(number)) is { } entry
            && AlertAnswer.Of(entry, page.Read().Facts(), Style(page)) is { } alert
            ? alert
            : throw BadInputException.Unknown($"There is no alert {number}.");

    private static ValueTask<AlertAnswer> SeeAsync(PageHome page, long number, string by) =>
        ActAsync(page, number, (alerts, now) => alerts.See(number, by, now));

    private static async ValueTask<AlertAnswer> MuteAsync(PageHome page, long number, MuteRequest mute)
    {
        await page.AskAsync(() => Require(page, number));
        var length = BadInputException.In("for", () => Core.Bounds.Quiet.Require(DurationText.Parse(mute.For)));
        return await ActAsync(page, number, (alerts, now) => alerts.Mute(number, now + length));
    }

    private static async ValueTask<AlertAnswer> ActAsync(PageHome page, long number, Action<AlertActs, Instant> act)
    {
        await page.AskAsync(() => Require(page, number));
        await page.TryWriteAsync((home, now) => act(home.Writing(now).Alerts, now));
        return await page.AskAsync(() => Require(page, number));
    }

    // Programs get °C whatever the page shows.
    private static WordStyle Style(PageHome page) => new(false, page.Zone);
}

/// <summary>Who has seen an alert.</summary>
/// <param name="By">Their name; whoever is signed in by default.</param>
internal sealed record SeenRequest(string? By = null);

/// <summary>How long an alert is to be quiet.</summary>
/// <param name="For">As 2h or 1d.</param>
internal sealed record MuteRequest(string For);
