using Chamber.Core.Batches;
using Chamber.Core.Facts;
using Chamber.Service.Home.Answers;
using Chamber.Service.Home.Writing;
using Chamber.Service.Web.Views;
using NodaTime;

namespace Chamber.Service.Web.Api;

/// <summary>What is recorded of a batch or a spot without counting.</summary>
internal static class UpkeepRoutes
{
    public static async Task<NoteAnswer> NoteAsync(PageHome page, Func<FactSubject> about, NoteRequest said)
    {
        var note = await page.WriteAsync((home, now) => new HomeUpkeep(home, now).Note(about(), said));
        return new(note.At, note.Text);
    }

    public static async Task<WateredAnswer> WaterAsync(PageHome page, Func<FactSubject> about, MomentRequest when)
    {
        var (batches, at) = await page.WriteAsync((home, now) => new HomeUpkeep(home, now).Water(about(), when));
        return new(batches, at);
    }

    public static async Task<LimitsAnswer> LimitAsync(PageHome page, Func<FactSubject> about, LimitsRequest asked) =>
        LimitsAnswer.Of(await page.WriteAsync((home, now) => new HomeUpkeep(home, now).Limit(about(), asked)));
}

/// <summary>What was watered.</summary>
/// <param name="Batches">Which batches.</param>
/// <param name="At">When.</param>
internal sealed record WateredAnswer(IReadOnlyList<BatchId> Batches, Instant At);
