using Chamber.Core.Alerts;
using Chamber.Core.Chores;
using Chamber.Service.Home.Watching;
using Chamber.Service.Home.Writing;
using Chamber.Service.Labels;
using Chamber.Service.Web.Views;
using NodaTime;

namespace Chamber.Service.Web.Api;

/// <summary>The home as a whole: today, reminders.</summary>
internal static class HomeRoutes
{
    private const int DefaultDays = 14;

    public static void Map(RouteGroupBuilder reads, RouteGroupBuilder writes)
    {
        reads = reads.MapGroup(string.Empty).WithTags("Home");
        writes = writes.MapGroup(string.Empty).WithTags("Home");
        reads.MapGet("/home", (PageHome page, HttpContext context) => new HomeAnswer(
            ProgramVersion.Text, page.Host?.Root ?? page.Data.Path, page.Now, page.Zone.Id, context.User.Identity?.Name,
                context.User.IsInRole(Access.AccessModule.Change)))
            .WithName("Home").WithSummary("Which version this is, its time and zone, and who is asking.");
        reads.MapGet("/today", (PageHome page, int? days) => Today(page, Days(days)))
            .WithName("Today").WithSummary("What needs a hand now, in order of what it costs to wait, and what is coming.")
                .ProducesProblem(StatusCodes.Status400BadRequest);
        reads.MapGet("/reminders", (PageHome page, int? days) => Reminders(page, Days(days)))
            .WithName("Reminders").WithSummary("What batches need next, by day; the next 14 days by default.")
                .ProducesProblem(StatusCodes.Status400BadRequest);
        writes.MapPut("/settings/label-address", (PageHome page, AddressRequest address) => AddressAsync(page, address))
            .WithName("SetLabelAddress").WithSummary("The page's address as phones reach it; the code on labels leads there.");
    }

    private static int Days(int? days) => BadInputException.In("days", () => Core.Bounds.DaysAhead.Require(days ?? DefaultDays));

    private static List<Reminder> Reminders(PageHome page, int days)
    {
        var until = page.Today.PlusDays(days);
        var home = page.Read();
        return [.. new HomeReminders(home, home.Now).All().Where(reminder => reminder.From <= until)];
    }

    private static TodayAnswer Today(PageHome page, int days)
    {
        var home = page.Read();
        return new HomeToday(home, home.Now).Read(new WordStyle(false, page.Zone), days);
    }

    private static async Task<AddressRequest> AddressAsync(PageHome page, AddressRequest address)
    {
        var url = BadInputException.In("url", () => HomeLabels.Address(address.Url));
        await page.WriteAsync((home, now) => HomeLabels.Remember(home.Writing(now).Choose, url));
        return new(url.AbsoluteUri);
    }
}

/// <summary>This Chamber.</summary>
/// <param name="Version">Its version.</param>
/// <param name="Data">Where its data is; of a home that others keep, where its pages are.</param>
/// <param name="Now">Its time; that of a demo runs faster.</param>
/// <param name="Zone">The home's time zone.</param>
/// <param name="You">Who is asking.</param>
/// <param name="MayChange">Whether they may change things.</param>
internal sealed record HomeAnswer(string Version, string Data, Instant Now, string Zone, string? You, bool MayChange);

/// <summary>The page's address.</summary>
/// <param name="Url">As <c>http://pantry.local:8470/</c>.</param>
internal sealed record AddressRequest(string Url);
