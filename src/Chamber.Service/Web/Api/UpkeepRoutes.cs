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
    public static NoteAnswer Note(PageHome page, FactSubject about, NoteRequest said)
    {
        var note = page.Write((home, now) => new HomeUpkeep(home, now).Note(about, said));
        return new(note.At, note.Text);
    }

    public static WateredAnswer Water(PageHome page, FactSubject about, MomentRequest when)
    {
        var (batches, at) = page.Write((home, now) => new HomeUpkeep(home, now).Water(about, when));
        return new(batches, at);
    }

    public static LimitsAnswer Limit(PageHome page, FactSubject about, LimitsRequest asked) =>
        LimitsAnswer.Of(page.Write((home, now) => new HomeUpkeep(home, now).Limit(about, asked)));
}

/// <summary>What was watered.</summary>
/// <param name="Batches">Which batches.</param>
/// <param name="At">When.</param>
internal sealed record WateredAnswer(IReadOnlyList<BatchId> Batches, Instant At);
