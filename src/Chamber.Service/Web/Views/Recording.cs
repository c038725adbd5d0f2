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

    public async Task LookAsync(BatchId id, int up)
    {
        await DoAsync(batches => batches.Look(id.Text, new(up, Note, At, Moisture)),
            () => $"{Name(id)}: {(up == 0 ? "nothing yet" : $"{up} up")}");
        Seedlings = Refused ? 0 : up;
    }

    public Task StageAsync(BatchId id, StageKind stage, int? plants = null) => DoAsync(
        batches => batches.Stage(id.Text, new(stage, plants, Note, At)),
        () => $"{Name(id)}: {TodayWords.Done(stage)}", $"{id} {stage} {plants}");

    /// <summary>Moved to the light, and standing there from now on.</summary>
    public Task ToTheLightAsync(BatchId id, string? spot) => DoAsync(
        batches => batches.Stage(id.Text, new(StageKind.MovedToLight, null, Note, At, spot)),
        () => $"{Name(id)}: {TodayWords.Done(StageKind.MovedToLight)}{(spot is null ? "" : $", on {Spot(spot)}")}",
        $"{id} {StageKind.MovedToLight}");

    public Task WetAsync(BatchId id) => DoAsync(batches => batches.Wet(id.Text, new(At)), () => $"{Name(id)}: watered", $"{id} watered");

    /// <summary>The note by itself: nothing is counted, and nothing else was done.</summary>
    internal async Task NoteDownAsync(FactSubject about)
    {
        var (text, at) = (Note ?? "", At);
        var isWritten = await TellAsync((home, now) => new HomeUpkeep(home, now).Note(about, new(text, at)),
            () => $"Written down. {page.Names.Of(about)}: {text}");
        (At, Note) = isWritten ? (null, null) : (At, Note);
    }

    /// <summary>All that stands on a spot was watered.</summary>
    internal Task WaterAsync(FactSubject spot) => TellAsync(
        (home, now) => new HomeUpkeep(home, now).Water(spot, new()), () => $"Written down. All on {page.Names.Of(spot)} is watered.");

    public Task LoseAsync(BatchId id, int plants, LossCause cause) => DoAsync(
        batches => batches.Lose(id.Text, new(plants, cause, Note, At)),
        () => $"{Name(id)}: {plants} lost ({Choice.Words(cause)})",
        $"{id} lost {plants} {cause}");

    public Task MoveAsync(BatchId id, string spot) => DoAsync(batches => batches.Move(id.Text, new(spot, At)), () => string.Join(". ",
        [$"{Name(id)} stands on {Spot(spot)}", .. HomeWarnings.OfSpot(page.Read(), new(spot)).Select(warning => warning.TrimEnd('.'))]));

    public Task PlantOutAsync(BatchId id, LocalDate day) =>
        DoAsync(batches => batches.PlantOut(id.Text, day), () => $"{Name(id)} is to be planted out on {TimeText.ShowDay(day, page.Today)}");

    public Task EndAsync(BatchId id) => DoAsync(batches => batches.End(id.Text, new(At)), () => $"{Name(id)} has ended", $"{id} ended");

    /// <summary>A photo was taken: when and with what note was said before, as with a look.</summary>
    internal async Task PhotoAsync(BatchId id, PhotoShelf files, byte[] file)
    {
        var isWritten = await TellAsync(
            (home, now) => new HomePhotos(home, files, now).Take(id.Text, file, At, Note), () => "The photo is kept.");
        (At, Note) = isWritten ? (null, null) : (At, Note);
    }

    /// <summary>The seedlings on a photo were counted.</summary>
    internal Task MarkAsync(BatchId id, PhotoShelf files, string photo, PhotoMarks marks) => TellAsync(
        (home, now) => new HomePhotos(home, files, now).Mark(id.Text, photo, marks), () => $"Written down. {Name(id)}: {marks.Count} up.");

    /// <summary>A photo is removed.</summary>
    internal Task RemovePhotoAsync(BatchId id, PhotoShelf files, string photo) => TellAsync(
        (home, now) => new HomePhotos(home, files, now).Remove(id.Text, photo), () => "The photo is removed.");

    /// <summary>Something could not be written down.</summary>
    internal void Refuse(string why) => (Said, Refused, Seedlings, undo) = (why, true, 0, []);

    /// <summary>Somebody has seen an alert.</summary>
    public Task SeeAsync(long alert) =>
        WriteAsync((home, now) => home.Writing(now).Alerts.See(alert, "somebody at the page", now), "Somebody has seen it.");

    /// <summary>An alert is quiet for two hours; danger is reported all the same.</summary>
    public Task SnoozeAsync(long alert) => WriteAsync((home, now) => home.Writing(now).Alerts.Mute(alert, now + SnoozeLength),
        "It is snoozed for two hours; danger breaks through.");

    /// <summary>Says it no longer; what is written down stays.</summary>
    public void Close() => (Said, Refused, Seedlings, undo) = (string.Empty, false, 0, []);

    public async Task TakeBackAsync()
    {
        if (undo is { Count: > 0 } entries)
        {
            var problem = await page.TryWriteAsync((home, now) => new HomeHistory(home, now).Remove(entries));
            (Said, Refused, Seedlings, undo, written) = (problem ?? "Taken back.", problem is not null, 0, [], null);
        }
    }

    /// <summary>Anything else that is written down.</summary>
    internal Task WriteAsync(Action<HomeReader, Instant> write, string said) => TellAsync(write, () => $"Written down. {said}");

    /// <summary>Something about the record itself: another name, a correction.</summary>
    internal Task AmendAsync(Action<HomeReader, Instant> write, string said) => TellAsync(write, () => said);

    private async Task DoAsync(Action<HomeBatches> write, Func<string> said, string? what = null)
    {
        if (what is not null && written is { } last && last.What == what && page.Now - last.At < OneTap)
        {
            return;
        }

        var isWritten = await TellAsync((home, now) => write(new(home, now)), () => $"Written down. {said()}.");
        (At, Note, Moisture) = isWritten ? (null, null, null) : (At, Note, Moisture);
        written = isWritten && what is not null ? (what, page.Now) : null;
    }

    private string Name(BatchId id) => page.Names.Of(id);

    private string Spot(string spot) => page.Names.Of(new SpotId(spot));

    private async Task<bool> TellAsync(Action<HomeReader, Instant> write, Func<string> said)
    {
        Seedlings = 0;
        var (problem, entries) = await page.TryAsync(write);
        var words = problem is null ? await page.AskAsync(said) : problem;
        (Said, Refused, undo) = (words, problem is not null, [.. entries.Select(entry => entry.Number)]);
        return problem is null;
    }
}
