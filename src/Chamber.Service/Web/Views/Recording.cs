using Chamber.Core.Batches;
using Chamber.Core.Facts;
using Chamber.Core.Spots;
using Chamber.Service.Home;
using Chamber.Service.Home.Writing;
using Chamber.Service.Photos;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>Writes down what a tap says, and says so in words; the last tap can be taken back.</summary>
public sealed class Recording
{
    private readonly PageHome page;
    // Two taps in so short a time are one: the finger slipped, or the page was slow to answer.
    private static readonly Duration OneTap = Duration.FromSeconds(2);

    private static readonly Duration SnoozeLength = Duration.FromHours(2);

    private IReadOnlyList<long> undo = [];
    private (string What, Instant At)? written;

    internal Recording(PageHome page) => this.page = page;

    /// <summary>What was written down, or why not.</summary>
    public string Said { get; private set; } = string.Empty;

    public bool Refused { get; private set; }

    /// <summary>How many seedlings the look that was just written down counted; 0 when it was something else.</summary>
    public int Seedlings { get; private set; }

    /// <summary>When what is written down next was, as a local time; null for now.</summary>
    public string? At { get; set; }

    /// <summary>What else was seen; goes with the next look, stage or loss.</summary>
    public string? Note { get; set; }

    /// <summary>How damp it feels; goes with the next look.</summary>
    public LookMoisture? Moisture { get; set; }

    /// <summary>Whether there is something to take back.</summary>
    public bool CanTakeBack => undo.Count > 0;

    public void Look(BatchId id, int up)
    {
        Do(batches => batches.Look(id.Text, new(up, Note, At, Moisture)), () => $"{Name(id)}: {(up == 0 ? "nothing yet" : $"{up} up")}");
        Seedlings = Refused ? 0 : up;
    }

    public void Stage(BatchId id, StageKind stage, int? plants = null) => Do(
        batches => batches.Stage(id.Text, new(stage, plants, Note, At)),
        () => $"{Name(id)}: {TodayWords.Done(stage)}", $"{id} {stage} {plants}");

    /// <summary>Moved to the light, and standing there from now on.</summary>
    public void ToTheLight(BatchId id, string? spot) => Do(
        batches => batches.Stage(id.Text, new(StageKind.MovedToLight, null, Note, At, spot)),
        () => $"{Name(id)}: {TodayWords.Done(StageKind.MovedToLight)}{(spot is null ? "" : $", on {Spot(spot)}")}",
        $"{id} {StageKind.MovedToLight}");

    public void Wet(BatchId id) => Do(batches => batches.Wet(id.Text, new(At)), () => $"{Name(id)}: watered", $"{id} watered");

    /// <summary>The note by itself: nothing is counted, and nothing else was done.</summary>
    internal void NoteDown(FactSubject about)
    {
        var (text, at) = (Note ?? "", At);
        var isWritten = Tell((home, now) => new HomeUpkeep(home, now).Note(about, new(text, at)),
            () => $"Written down. {page.Names.Of(about)}: {text}");
        (At, Note) = isWritten ? (null, null) : (At, Note);
    }

    /// <summary>All that stands on a spot was watered.</summary>
    internal void Water(FactSubject spot) => Tell(
        (home, now) => new HomeUpkeep(home, now).Water(spot, new()), () => $"Written down. All on {page.Names.Of(spot)} is watered.");

    public void Lose(BatchId id, int plants, LossCause cause) => Do(
        batches => batches.Lose(id.Text, new(plants, cause, Note, At)),
        () => $"{Name(id)}: {plants} lost ({Choice.Words(cause)})",
        $"{id} lost {plants} {cause}");

    public void Move(BatchId id, string spot) => Do(batches => batches.Move(id.Text, new(spot, At)), () => string.Join(". ",
        [$"{Name(id)} stands on {Spot(spot)}", .. HomeWarnings.OfSpot(page.Read(), new(spot)).Select(warning => warning.TrimEnd('.'))]));

    public void PlantOut(BatchId id, LocalDate day) =>
        Do(batches => batches.PlantOut(id.Text, day), () => $"{Name(id)} is to be planted out on {TimeText.ShowDay(day, page.Today)}");

    public void End(BatchId id) => Do(batches => batches.End(id.Text, new(At)), () => $"{Name(id)} has ended", $"{id} ended");

    /// <summary>A photo was taken: when and with what note was said before, as with a look.</summary>
    internal void Photo(BatchId id, PhotoFiles files, byte[] file)
    {
        var isWritten = Tell((home, now) => new HomePhotos(home, files, now).Take(id.Text, file, At, Note), () => "The photo is kept.");
        (At, Note) = isWritten ? (null, null) : (At, Note);
    }

    /// <summary>The seedlings on a photo were counted.</summary>
    internal void Mark(BatchId id, PhotoFiles files, string photo, PhotoMarks marks) => Tell(
        (home, now) => new HomePhotos(home, files, now).Mark(id.Text, photo, marks), () => $"Written down. {Name(id)}: {marks.Count} up.");

    /// <summary>A photo is removed.</summary>
    internal void RemovePhoto(BatchId id, PhotoFiles files, string photo) => Tell(
        (home, now) => new HomePhotos(home, files, now).Remove(id.Text, photo), () => "The photo is removed.");

    /// <summary>Something could not be written down.</summary>
    internal void Refuse(string why) => (Said, Refused, Seedlings, undo) = (why, true, 0, []);

    /// <summary>Somebody has seen an alert.</summary>
    public void See(long alert) =>
        Write((home, now) => home.Writing(now).Alerts.See(alert, "somebody at the page", now), "Somebody has seen it.");

    /// <summary>An alert is quiet for two hours; danger is reported all the same.</summary>
    public void Snooze(long alert) => Write((home, now) => home.Writing(now).Alerts.Mute(alert, now + SnoozeLength),
        "It is snoozed for two hours; danger breaks through.");

    /// <summary>Says it no longer; what is written down stays.</summary>
    public void Close() => (Said, Refused, Seedlings, undo) = (string.Empty, false, 0, []);

    public void TakeBack()
    {
        if (undo is { Count: > 0 } entries)
        {
            var problem = page.TryWrite((home, now) => new HomeHistory(home, now).Remove(entries));
            (Said, Refused, Seedlings, undo, written) = (problem ?? "Taken back.", problem is not null, 0, [], null);
        }
    }

    /// <summary>Anything else that is written down.</summary>
    internal void Write(Action<HomeReader, Instant> write, string said) => Tell(write, () => $"Written down. {said}");

    /// <summary>Something about the record itself: another name, a correction.</summary>
    internal void Amend(Action<HomeReader, Instant> write, string said) => Tell(write, () => said);

    private void Do(Action<HomeBatches> write, Func<string> said, string? what = null)
    {
        if (what is not null && written is { } last && last.What == what && page.Now - last.At < OneTap)
        {
            return;
        }

        var isWritten = Tell((home, now) => write(new(home, now)), () => $"Written down. {said()}.");
        (At, Note, Moisture) = isWritten ? (null, null, null) : (At, Note, Moisture);
        written = isWritten && what is not null ? (what, page.Now) : null;
    }

    private string Name(BatchId id) => page.Names.Of(id);

    private string Spot(string spot) => page.Names.Of(new SpotId(spot));

    // What was written down meanwhile by others is not this tap's to take back.
    private bool Tell(Action<HomeReader, Instant> write, Func<string> said)
    {
        Seedlings = 0;
        var before = page.Store.Facts.Last;
        var problem = page.TryWrite(write);
        (Said, Refused) = problem is null ? (said(), false) : (problem, true);
        undo = problem is null
            ? [.. page.Store.Facts.Since(before).Where(entry => entry.By == page.Author).Select(entry => entry.Number)]
            : [];
        return problem is null;
    }
}
