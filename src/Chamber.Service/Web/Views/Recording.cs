using Chamber.Core.Batches;
using Chamber.Service.Home;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>Writes down what a tap says, and says so in words; the last tap can be taken back.</summary>
public sealed class Recording
{
    private readonly PageHome page;
    // Two taps in so short a time are one: the finger slipped, or the page was slow to answer.
    private static readonly Duration OneTap = Duration.FromSeconds(2);

    private Action<HomeBatches>? undo;
    private (string What, Instant At)? written;

    internal Recording(PageHome page) => this.page = page;

    /// <summary>What was written down, or why not.</summary>
    public string Said { get; private set; } = string.Empty;

    public bool Refused { get; private set; }

    /// <summary>Whether there is something to take back.</summary>
    public bool CanTakeBack => undo is not null;

    public void Look(BatchId id, int up)
    {
        Instant? at = null;
        Do(batches => at = batches.Look(id.Text, new(up)).Looks[^1].At, () => $"{id}: {(up == 0 ? "nothing yet" : $"{up} up")}",
            batches => batches.TakeBackLook(id.Text, NodaTime.Text.InstantPattern.ExtendedIso.Format(at!.Value)));
    }

    public void Stage(BatchId id, StageKind stage, int? plants = null)
    {
        Instant? at = null;
        Do(
            batches => at = batches.Stage(id.Text, new(stage, plants)).Stages.Last(one => one.Kind == stage).At,
            () => $"{id}: {TodayWords.Done(stage)}",
            batches => batches.TakeBackStage(id.Text, at!.Value),
            $"{id} {stage} {plants}");
    }

    /// <summary>Moved to the light, and standing there from now on.</summary>
    public void ToTheLight(BatchId id, string? spot)
    {
        Instant? at = null;
        Do(
            batches => at = batches.Stage(id.Text, new(StageKind.MovedToLight, Spot: spot)).Stages.Last(
                one => one.Kind == StageKind.MovedToLight).At,
            () => $"{id}: {TodayWords.Done(StageKind.MovedToLight)}{(spot is null ? "" : $", on {spot}")}",
            batches => batches.TakeBackStage(id.Text, at!.Value),
            $"{id} {StageKind.MovedToLight}");
    }

    public void Wet(BatchId id) => Do(batches => batches.Wet(id.Text, new()), () => $"{id}: wetted", null, $"{id} wetted");

    public void Lose(BatchId id, int plants, LossCause cause)
    {
        Instant? at = null;
        Do(
            batches => at = batches.Lose(id.Text, new(plants, cause)).Losses[^1].At,
            () => $"{id}: {plants} lost to {Choice.Words(cause)}",
            batches => batches.TakeBackLoss(id.Text, at!.Value),
            $"{id} lost {plants} {cause}");
    }

    public void Move(BatchId id, string spot) => Do(batches => batches.Move(id.Text, new(spot)), () => $"{id} stands on {spot}", null);

    public void PlantOut(BatchId id, LocalDate day) =>
        Do(batches => batches.PlantOut(id.Text, day), () => $"{id} is to be planted out on {TimeText.ShowDay(day, page.Today)}", null);

    public void End(BatchId id) =>
        Do(batches => batches.End(id.Text, new()), () => $"{id} has ended", batches => batches.Reopen(id.Text), $"{id} ended");

    /// <summary>Says it no longer; what is written down stays.</summary>
    public void Close() => (Said, Refused, undo) = (string.Empty, false, null);

    public void TakeBack()
    {
        if (undo is { } back)
        {
            Do(back, null, null);
            written = null;
        }
    }

    /// <summary>Anything else that is written down.</summary>
    internal void Write(Action<HomeReader, Instant> write, string said)
    {
        var problem = page.TryWrite(write);
        (Said, Refused) = problem is null ? ($"Written down. {said}", false) : (problem, true);
        undo = null;
    }

    private void Do(Action<HomeBatches> write, Func<string>? said, Action<HomeBatches>? back, string? what = null)
    {
        if (what is not null && written is { } last && last.What == what && page.Now - last.At < OneTap)
        {
            return;
        }

        var problem = page.TryWrite((home, now) => write(new(home, now)));
        (Said, Refused) = problem is null ? (said is null ? "Taken back." : $"Written down. {said()}.", false) : (problem, true);
        undo = problem is null ? back : null;
        written = problem is null && what is not null ? (what, page.Now) : null;
    }
}
