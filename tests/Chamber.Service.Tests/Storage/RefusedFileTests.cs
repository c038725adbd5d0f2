using Chamber.Core.Climate;
using Chamber.Storage.Moving;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Storage;

/// <summary>What was refused goes with a whole home. What was sent is invented.</summary>
public sealed class RefusedFileTests : IDisposable
{
    private static readonly Refusal Torn = new(DataFile.Start, "flat/mat", new("mat"), null, RefusalReason.Malformed,
        "{\"t\": \"21,\n\0\u00e9", "Send it whole.");

    private static readonly Refusal Hot = new(DataFile.Start + Duration.FromHours(1), "log.csv:3", null, "temperature",
        RefusalReason.Impossible, "999", "Look again.");

    private readonly TempFolder folder = new();

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Counts_and_what_is_kept_raw_come_back_letter_for_letter()
    {
        using var file = new DataFile();
        using var store = file.Open();
        store.Journal.Append([], [Torn, Hot, Hot], null);
        await RefusedFile.WriteAsync(folder.Path, store.Records, Stop);

        var (counts, kept) = RefusedFile.Read(folder.Path);
        Assert.Equal(store.Journal.RefusalCounts(), counts);
        Assert.Equal([Torn, Hot, Hot], kept);
    }

    [Fact]
    public async Task Taken_over_twice_they_are_there_once()
    {
        using var file = new DataFile();
        using var store = file.Open();
        store.Journal.TakeOver([new(new("mat"), RefusalReason.Malformed, 1066, Torn.ReceivedAt)], [Torn, Hot]);
        store.Journal.TakeOver([new(new("mat"), RefusalReason.Malformed, 1066, Torn.ReceivedAt)], [Torn, Hot]);
        Assert.Equal(1066, Assert.Single(store.Journal.RefusalCounts()).Count);
        Assert.Equal([Hot, Torn], store.Journal.Refusals());

        store.Journal.Append([], [Torn], null);
        Assert.Equal(1067, Assert.Single(store.Journal.RefusalCounts()).Count);
    }

    [Fact]
    public void A_line_that_is_none_is_named_and_a_folder_without_has_nothing()
    {
        Assert.Equal((0, 0), (RefusedFile.Read(folder.Path).Counts.Count, RefusedFile.Read(folder.Path).Kept.Count));
        foreach (var (line, why) in new[]
        {
            ("{", "it is nothing that was refused."),
            ("""{"probe":"mat","reason":"malformed","count":0,"last":"2026-02-01T06:00:00Z"}""", "count 0: something was refused once"),
            ("""{"probe":"mat","reason":"odd","count":1,"last":"2026-02-01T06:00:00Z"}""", "\"odd\" is none of unknown-topic"),
            ("""{"received":"yesterday","source":"x","reason":"malformed","raw":"","fix":""}""", "The value string does not match"),
        })
        {
            folder.Write(RefusedFile.Name, line + "\n");
            var refused = Assert.Throws<FormatException>(() => RefusedFile.Read(folder.Path));
            Assert.Contains($"{RefusedFile.Name} line 1: {why}", refused.Message, StringComparison.Ordinal);
        }
    }

    public void Dispose() => folder.Dispose();
}
