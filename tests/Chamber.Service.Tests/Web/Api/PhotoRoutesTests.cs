using System.Net;
using Chamber.Testing;
using SkiaSharp;

namespace Chamber.Service.Tests.Web.Api;

/// <summary>Photos by the API of the built program: kept, counted on, taken back. The photos are drawn.</summary>
public sealed class PhotoRoutesTests
{
    [Fact]
    public async Task A_photo_is_kept_counted_and_taken_back_with_its_count()
    {
        await using var rig = await ApiRig.Start();
        using var sent = await rig.Post("/api/batches/T1/photos?note=first", SomePhoto.Jpeg(640, 480, SKColors.Green), "image/jpeg");
        Assert.Equal(HttpStatusCode.Created, sent.StatusCode);
        var address = sent.Headers.Location!.ToString();

        using (var small = await rig.Call("GET", address + "?small=true"))
        {
            using var photo = SKBitmap.Decode(await small.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
            Assert.Equal((320, 240), (photo.Width, photo.Height));
            Assert.True(small.Headers.CacheControl is { Private: true });
        }

        var marked = await rig.Json("PUT", address + "/marks", """[{ "seedling": 1, "x": 0.25, "y": 0.5 }, { "seedling": 2, "x": 0.75, "y": 0.5 }]""");
        Assert.Equal(2, marked.GetProperty("seedlings").GetArrayLength());
        Assert.Equal(2, await Up(rig));

        await rig.Json("POST", "/api/backups");
        Assert.True(File.Exists(Path.Combine(rig.Data, "backups", "photos", address.Split('/')[^1])));
        using var removed = await rig.Call("DELETE", address);
        Assert.Equal(HttpStatusCode.NoContent, removed.StatusCode);
        Assert.Empty((await rig.Json("GET", "/api/batches/T1/photos")).GetProperty("photos").EnumerateArray());
        Assert.Equal(0, await Up(rig));
        using var gone = await rig.Call("GET", address);
        Assert.Equal(HttpStatusCode.NotFound, gone.StatusCode);

        await rig.Json("POST", "/api/history/undo");
        Assert.Equal(2, await Up(rig));
    }

    [Fact]
    public async Task What_is_no_photo_or_too_large_is_refused()
    {
        await using var rig = await ApiRig.Start();
        using var none = await rig.Post("/api/batches/T1/photos", "none"u8.ToArray(), "image/jpeg");
        Assert.Equal(HttpStatusCode.BadRequest, none.StatusCode);
        var why = await none.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.Contains("send a JPEG", why, StringComparison.Ordinal);

        using var large = await rig.Post("/api/batches/T1/photos", new byte[20_000_001], "image/jpeg");
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, large.StatusCode);
    }

    private static async Task<int> Up(ApiRig rig) => (await rig.Json("GET", "/api/batches/T1")).GetProperty("looks").EnumerateArray()
        .Select(look => look.GetProperty("up").GetInt32()).LastOrDefault();
}
