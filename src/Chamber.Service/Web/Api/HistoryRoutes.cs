using System.Text.Json.Nodes;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Service.Home.Writing;
using Chamber.Service.Web.Views;

namespace Chamber.Service.Web.Api;

/// <summary>What was written down, when and by whom, and putting it right.</summary>
internal static class HistoryRoutes
{
    private const int LinesUsual = 100;

    public static void Map(RouteGroupBuilder reads, RouteGroupBuilder writes)
    {
        reads.MapGet("/shown-names", (PageHome page) => Shown(page)).WithName("ShownNames").WithTags("History")
            .WithSummary("By which names of any letters people see batches, spots and probes.");
        reads = reads.MapGroup("/history").WithTags("History");
        reads.MapGet("", (PageHome page, int? last) => All(page, last)).WithName("History")
            .WithSummary("The newest entries, oldest first: as many as last says, or 100.")
            .ProducesProblem(StatusCodes.Status400BadRequest);
        reads.MapGet("/{number:long}", (PageHome page, long number) => Of(page).Entry(number)).WithName("Entry")
            .WithSummary("One entry with all that it holds.").ProducesProblem(StatusCodes.Status404NotFound);
        reads.MapGet("/{kind}/{name}", (PageHome page, string kind, string name) => Of(page).Of(About(kind, name)))
            .WithName("HistoryOf").WithSummary("What was written down of a batch, spot, lot or probe, under whatever name it had.")
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
        MapWrites(writes.MapGroup("/history").WithTags("History"));
        writes.MapPost("/probes/{probe}/set-aside", (PageHome page, string probe, SetAsideRequest asked) =>
            WriteAsync(page, history => history.SetAside(BadInputException.In("probe", () => new ProbeId(probe)), asked.From, asked.To,
                asked.Why)))
            .WithTags("Probes").WithName("SetAside").WithSummary("Readings of a span are not to be used; they are kept.");
    }

    private static void MapWrites(RouteGroupBuilder writes)
    {
        writes.MapPost("/undo", (PageHome page) => WriteAsync(page, history => history.Undo())).WithName("Undo")
            .WithSummary("Takes back the last thing that this program, or person, has written down.");
        writes.MapPatch("/{number:long}", (PageHome page, long number, CorrectionRequest asked) =>
            WriteAsync(page, history => history.Correct(number, asked.Changes ?? [], asked.At))).WithName("Correct")
            .WithSummary("Says what an entry should have been; all answers follow.");
        writes.MapDelete("/{number:long}", (PageHome page, long number) => WriteAsync(page, history => history.Remove(number)))
            .WithName("TakeBackEntry").WithSummary("Takes an entry back; it stays in the record.");
        writes.MapDelete("/{kind}/{name}", (PageHome page, string kind, string name) =>
            WriteAsync(page, history => history.RemoveAll(About(kind, name)))).WithName("TakeBackAll")
            .WithSummary("Takes back all that was written down of a batch, spot, lot or probe, as if it had never been.")
            .ProducesProblem(StatusCodes.Status404NotFound);
        writes.MapPost("/{kind}/{name}/rename", (PageHome page, string kind, string name, RenameRequest asked) =>
            WriteAsync(page, history => history.Rename(About(kind, name), asked.To))).WithName("Rename")
            .WithSummary("Gives a batch, spot, lot or probe another name; its history stays with it.");
        writes.MapPut("/{kind}/{name}/shown", (PageHome page, string kind, string name, ShownRequest asked) =>
            WriteAsync(page,
                history => new ShownAnswer(About(kind, name).Kind, name, history.ShowAs(About(kind, name), asked.Shown))))
            .WithName("ShowAs")
            .WithSummary("Lets people see a batch, spot or probe by a name of any letters; its own name stays.");
    }

    private static IReadOnlyList<HistoryLine> All(PageHome page, int? last) =>
        [.. Of(page).Of(null).TakeLast(BadInputException.In("last", () => Core.Bounds.EntriesShown.Require(last ?? LinesUsual)))];

    private static FactSubject About(string kind, string name) =>
        new(BadInputException.In("kind", () => Choice.Parse<FactSubjectKind>(kind)), name);

    private static HomeHistory Of(PageHome page) => new(page.Read(), page.Now);

    private static List<ShownAnswer> Shown(PageHome page) =>
        [.. page.Read().Ledger.Names.All.Select(one => new ShownAnswer(one.Thing.Kind, one.Thing.Name, one.Shown))];

    private static Task<T> WriteAsync<T>(PageHome page, Func<HomeHistory, T> write) =>
        page.WriteAsync((home, now) => write(new(home, now)));
}

/// <summary>What an entry should have been.</summary>
/// <param name="Changes">What was wrong with its right value, by the names in its body; null where it is not known after all.</param>
/// <param name="At">When it was true; null for as it was written down.</param>
internal sealed record CorrectionRequest(Dictionary<string, JsonNode?>? Changes = null, string? At = null);

/// <summary>A name for people.</summary>
/// <param name="Shown">Any letters, 60 at most; nothing for its own name.</param>
internal sealed record ShownRequest(string? Shown = null);

/// <summary>How people see something.</summary>
internal sealed record ShownAnswer(FactSubjectKind Kind, string Name, string Shown);

/// <summary>Another name.</summary>
/// <param name="To">Its name from now on.</param>
internal sealed record RenameRequest(string To);

/// <summary>Readings that are not to be used.</summary>
/// <param name="From">From when on.</param>
/// <param name="To">Until when, not including that moment.</param>
/// <param name="Why">Why.</param>
internal sealed record SetAsideRequest(string From, string To, string? Why = null);
