using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using NodaTime;

namespace Chamber.Core.Tests.Facts;

/// <summary>Photos of a batch and the seedlings that are marked on them, in an invented home.</summary>
public sealed class PhotoFactsTests
{
    private static readonly Instant Sown = Instant.FromUtc(2027, 3, 1, 8, 0);
    private static readonly BatchId B1 = new("B1");

    private HomeState home = HomeState.Empty.Apply(new BatchSown(B1, new("basil"), SowingMethod.OpenMix, 3).At(Sown));

    private Batch Batch => home.Batch(B1)!;

    [Fact]
    public void Marks_are_the_count_at_the_time_of_the_photo()
    {
        Apply(new PhotoTaken(B1, "a", "first green"), 5);
        Apply(new PhotoMarked(B1, "a", Marks(1, 2)), 6);

        Assert.Equal([new Look(Day(5), 2)], Batch.Looks);
        Assert.Equal("first green", Batch.Photos[0].Note);
    }

    [Fact]
    public void Marking_again_counts_again_and_keeps_the_note_of_the_look()
    {
        Apply(new PhotoTaken(B1, "a"), 5);
        Apply(new BatchLooked(B1, 1, "mould", LookMoisture.Wet), 5);
        Apply(new PhotoMarked(B1, "a", Marks(1)), 6);
        Apply(new PhotoMarked(B1, "a", Marks(1, 3)), 7);

        Assert.Equal([new Look(Day(5), 2, "mould", LookMoisture.Wet)], Batch.Looks);
    }

    [Fact]
    public void A_photo_begins_with_the_marks_of_the_one_before()
    {
        Apply(new PhotoTaken(B1, "a"), 5);
        Apply(new PhotoTaken(B1, "b"), 7);
        Apply(new PhotoMarked(B1, "a", Marks(2)), 7);

        Assert.Equal(Marks(2), BatchPhotos.ToBeginWith(Batch, Batch.Photos[1]));
        Assert.Same(PhotoMarks.None, BatchPhotos.ToBeginWith(Batch with { Photos = [] }, Batch.Photos[1]));
    }

    [Fact]
    public void Each_seedling_has_the_day_on_which_it_was_seen_first()
    {
        Apply(new PhotoTaken(B1, "a"), 4);
        Apply(new PhotoTaken(B1, "b"), 5);
        Apply(new PhotoTaken(B1, "c"), 7);
        Apply(new PhotoMarked(B1, "b", Marks(1)), 7);
        Apply(new PhotoMarked(B1, "c", Marks(1, 2)), 7);

        Assert.Equal([(1, (Instant?)Day(4), Day(5)), (2, Day(5), Day(7))], BatchPhotos.FirstSeen(Batch));
    }

    [Fact]
    public void What_cannot_be_is_refused()
    {
        Apply(new PhotoTaken(B1, "a"), 5);

        Assert.Contains("already", Refused(new PhotoTaken(B1, "a"), 6), StringComparison.Ordinal);
        Assert.Contains("before", Refused(new PhotoTaken(B1, "b"), -1), StringComparison.Ordinal);
        Assert.Contains("no photo", Refused(new PhotoMarked(B1, "b", Marks(1)), 6), StringComparison.Ordinal);
        Assert.Contains("only 3 seeds", Refused(new PhotoMarked(B1, "a", Marks(4)), 6), StringComparison.Ordinal);
        Apply(new BatchLooked(B1, 2), 4);
        Assert.Contains("after 2 were up", Refused(new PhotoMarked(B1, "a", Marks(1)), 6), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("1 0.5")]
    [InlineData("0 0.5 0.5")]
    [InlineData("1 0.5 1.5")]
    [InlineData("1 0.5 NaN")]
    [InlineData("1 0.1 0.1; 1 0.2 0.2")]
    public void Marks_that_are_none_are_refused(string text) => Assert.Throws<FormatException>(() => PhotoMarks.Parse(text));

    [Fact]
    public void Marks_are_read_back_as_written() => Assert.Equal(Marks(3, 1), PhotoMarks.Parse(Marks(1, 3).ToString()));

    private static PhotoMarks Marks(params int[] numbers) => new(numbers.Select(number => new PhotoMark(number, 0.1 * number, 0.5)));

    private static Instant Day(int day) => Sown + Duration.FromDays(day);

    private void Apply(Fact fact, int day) => home = home.Apply(fact.At(Day(day)));

    private string Refused(Fact fact, int day) =>
        Assert.ThrowsAny<RefusedException>(() => home.Apply(fact.At(Day(day)))).Text.ToString();
}
