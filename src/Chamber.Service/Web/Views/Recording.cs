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

    private static readonly Duration SnoozeLength = Duration.FromHours(2);

    private Action<HomeBatches>? undo;
    private (string What, Instant At)? written;

    internal Recording(PageHome page) => this.page = page;

    /// <summary>What was written down, or why not.</summary>
    public string Said { get; private set; } = string.Empty;

    public bool Refused { get; private set; }

    /// <summary>When what is written down next was, as a local time; null for now.</summary>
    public string? At { get; set; }

    /// <summary>What else was seen; goes with the next look, stage or loss.</summary>
    public string? Note { get; set; }

    /// <summary>Whether there is something to take back.</summary>
    public bool CanTakeBack => undo is not null;

    public void Look(BatchId id, int up)
    {
        Instant? at = null;
        Do(batches => at = LookAt(batches, id, up), () => $"{id}: {(up == 0 ? "nothing yet" : $"{up} up")}",
            batches => batches.TakeBackLook(id.Text, NodaTime.Text.InstantPattern.ExtendedIso.Format(at!.Value)));
    }

    public void Stage(BatchId id, StageKind stage, int? plants = null)
    {
        Instant? at = null;
        Do(
            batches => at = batches.Stage(id.Text, new(stage, plants, Note, At)).Stages.Last(one => one.Kind == stage).At,
            () => $"{id}: {TodayWords.Done(stage)}",
            batches => batches.TakeBackStage(id.Text, at!.Value),
            $"{id} {stage} {plants}");
    }

    /// <summary>Moved to the light, and standing there from now on.</summary>
    public void ToTheLight(BatchId id, string? spot)
    {
        Instant? at = null;
        Do(
            batches => at = batches.Stage(id.Text, new(StageKind.MovedToLight, null, Note, At, spot)).Stages
                .Last(one => one.Kind == StageKind.MovedToLight).At,
            () => $"{id}: {TodayWords.Done(StageKind.MovedToLight)}{(spot is null ? "" : $", on {spot}")}",
            batches => batches.TakeBackStage(id.Text, at!.Value),
            $"{id} {StageKind.MovedToLight}");
    }

    public void Wet(BatchId id) => Do(batches => batches.Wet(id.Text, new(At)), () => $"{id}: watered", null, $"{id} watered");

    public void Lose(BatchId id, int plants, LossCause cause)
    {
        Instant? at = null;
        Do(
            batches => at = batches.Lose(id.Text, new(plants, cause, Note, At)).Losses[^1].At,
            () => $"{id}: {plants} lost to {Choice.Words(cause)}",
            batches => batches.TakeBackLoss(id.Text, at!.Value),
            $"{id} lost {plants} {cause}");
    }

    public void Move(BatchId id, string spot) => Do(batches => batches.Move(id.Text, new(spot, At)), () => $"{id} stands on {spot}", null);

    public void PlantOut(BatchId id, LocalDate day) =>
        Do(batches => batches.PlantOut(id.Text, day), () => $"{id} is to be planted out on {TimeText.ShowDay(day, page.Today)}", null);

    public void End(BatchId id) =>
        Do(batches => batches.End(id.Text, new(At)), () => $"{id} has ended", batches => batches.Reopen(id.Text), $"{id} ended");

    /// <summary>Somebody has seen an alert.</summary>
    public void See(long alert) =>
        Write((home, now) => home.Store.Ledger.Alerts.See(alert, "somebody at the page", now), "Somebody has seen it.");

    /// <summary>An alert is quiet for two hours; danger is told all the same.</summary>
    public void Snooze(long alert) => Write((home, now) => home.Store.Ledger.Alerts.Mute(alert, now + SnoozeLength),
        "It is snoozed for two hours; danger breaks through.");

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

    // The look that was written down: an earlier one does not stand last.
    private Instant LookAt(HomeBatches batches, BatchId id, int up)
    {
        var before = page.Read().RequireBatch(id.Text).Looks.Select(look => look.At).ToHashSet();
        return batches.Look(id.Text, new(up, Note, At)).Looks.Last(look => look.Up == up && !before.Contains(look.At)).At;
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
        (At, Note) = problem is null ? (null, null) : (At, Note);
        written = problem is null && what is not null ? (what, page.Now) : null;
    }
}
