using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Service.Photos;
using Chamber.Testing;
using NodaTime;
using SkiaSharp;

namespace Chamber.Service.Tests.Photos;

/// <summary>Photos as they are kept: turned right, small enough, and without anything but pixels. Exif 2.32 says what a camera writes;
/// the photos are drawn.</summary>
public sealed class PhotoFilesTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly PhotoFiles files;

    public PhotoFilesTests() => files = new(Path.Combine(folder.Path, "photos"));

    public void Dispose() => folder.Dispose();

    // Exif 2.32, tag 0x0112: 6 says that the camera was held so that the left side of what it wrote is the top.
    [Fact]
    public void A_photo_is_turned_right_and_says_neither_device_nor_place()
    {
        var kept = File.ReadAllBytes(files.Find(files.Keep(SomePhoto.WithExif(SomePhoto.Jpeg(400, 200, SKColors.Red))))!.FullName);

        using var photo = SKBitmap.Decode(kept);
        Assert.Equal((200, 400), (photo.Width, photo.Height));
        Assert.InRange(photo.GetPixel(100, 50).Red, 200, 255);
        Assert.InRange(photo.GetPixel(100, 350).Red, 0, 60);
        var text = System.Text.Encoding.Latin1.GetString(kept);
        Assert.DoesNotContain("Exif", text, StringComparison.Ordinal);
        Assert.DoesNotContain("CAM", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_large_photo_is_kept_no_larger_than_a_screen()
    {
        var name = files.Keep(SomePhoto.Jpeg(4000, 3000, SKColors.Green));

        using var photo = SKBitmap.Decode(files.Find(name)!.FullName);
        using var small = SKBitmap.Decode(files.Find(name, small: true)!.FullName);
        Assert.Equal((PhotoImage.SideMax, 1200), (photo.Width, photo.Height));
        Assert.Equal((PhotoImage.SmallSideMax, 240), (small.Width, small.Height));
    }

    [Theory]
    [InlineData("")]
    [InlineData("no photo at all")]
    public void What_is_no_photo_is_refused_and_leaves_nothing(string text)
    {
        Assert.Throws<BadInputException>(() => files.Keep(System.Text.Encoding.UTF8.GetBytes(text)));
        Assert.Empty(Directory.EnumerateFileSystemEntries(folder.Path));
    }

    [Fact]
    public void A_photo_that_was_cut_off_is_refused_or_kept_whole()
    {
        var file = SomePhoto.Jpeg(300, 200, SKColors.Red);
        foreach (var length in new[] { 2, 20, 200, file.Length / 2 })
        {
            try
            {
                using var photo = SKBitmap.Decode(files.Find(files.Keep(file[..length]))!.FullName);
                Assert.Equal((300, 200), (photo.Width, photo.Height));
            }
            catch (BadInputException refused)
            {
                Assert.Contains("photo", refused.Message, StringComparison.Ordinal);
            }
        }
    }

    // A PNG of 60,000 by 60,000 pixels takes some hundred bytes to claim.
    [Fact]
    public void A_small_file_that_claims_to_be_huge_is_refused_unread()
    {
        var refused = Assert.Throws<BadInputException>(() => files.Keep(SomePhoto.PngThatClaims(60_000)));

        Assert.Contains("pixels", refused.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("../chamber.json")]
    [InlineData("00112233445566778899.small.jpg")]
    [InlineData("other.jpg")]
    [InlineData("")]
    public void No_name_leads_to_another_file(string name)
    {
        files.Keep(SomePhoto.Jpeg(20, 20, SKColors.Red));
        File.WriteAllText(Path.Combine(folder.Path, "chamber.json"), "{}");

        Assert.Null(files.Find(name));
    }

    [Fact]
    public void A_copy_takes_each_photo_once()
    {
        files.Keep(SomePhoto.Jpeg(20, 20, SKColors.Red));
        var other = Path.Combine(folder.Path, "backups", "photos");

        Assert.Equal(1, files.CopyTo(other));
        Assert.Equal(0, files.CopyTo(other));
        Assert.Equal(2, Directory.GetFiles(other).Length);
    }

    [Fact]
    public void A_removed_photo_stays_a_week_from_its_removal_and_a_kept_one_for_good()
    {
        var (kept, removed) = (files.Keep(SomePhoto.Jpeg(20, 20, SKColors.Red)), files.Keep(SomePhoto.Jpeg(20, 20, SKColors.Blue)));
        var stray = files.Keep(SomePhoto.Jpeg(20, 20, SKColors.Green));
        var taken = Instant.FromDateTimeUtc(files.Find(removed)!.LastWriteTimeUtc);
        var gone = taken + Duration.FromDays(60);
        var entries = new[]
        {
            Entry(1, new BatchSown(new("B1"), new("basil"), SowingMethod.OpenMix, 12), taken),
            Entry(2, new PhotoTaken(new("B1"), kept), taken),
            Entry(3, new PhotoTaken(new("B1"), removed), taken),
            Entry(4, new Withdrawn(3), gone),
        };

        Assert.Equal(1, files.Sweep(entries, gone + Duration.FromDays(1)));
        Assert.Null(files.Find(stray));
        Assert.Equal(0, files.Sweep(entries, gone + PhotoFiles.KeptAfterRemoval - Duration.FromMinutes(1)));
        Assert.Equal(1, files.Sweep(entries, gone + PhotoFiles.KeptAfterRemoval));

        Assert.Null(files.Find(removed, small: true));
        Assert.NotNull(files.Find(kept));
    }

    [Fact]
    public void A_photo_taken_and_removed_within_the_week_stays_its_week()
    {
        var name = files.Keep(SomePhoto.Jpeg(20, 20, SKColors.Red));
        var taken = Instant.FromDateTimeUtc(files.Find(name)!.LastWriteTimeUtc);
        var gone = taken + PhotoFiles.KeptAfterRemoval - Duration.FromHours(1);
        var entries = new[]
        {
            Entry(1, new BatchSown(new("B1"), new("basil"), SowingMethod.OpenMix, 12), taken),
            Entry(2, new PhotoTaken(new("B1"), name), taken),
            Entry(3, new Withdrawn(2), gone),
        };

        Assert.Equal(0, files.Sweep(entries, gone + Duration.FromHours(2)));
        Assert.Equal(1, files.Sweep(entries, gone + PhotoFiles.KeptAfterRemoval));
    }

    private static FactEntry Entry(long number, Fact fact, Instant at) => new(number, number, fact, at, at, new("", WriteWay.Page));
}
