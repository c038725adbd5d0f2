using Chamber.Core;
using Chamber.Core.Batches;
using Chamber.Service.Home.Writing;
using Chamber.Service.Photos;
using Chamber.Service.Web.Views;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;
using NodaTime;

namespace Chamber.Service.Web.Api;

/// <summary>Photos of batches, and the seedlings that are marked on them.</summary>
internal static class PhotoRoutes
{
    public static void Map(RouteGroupBuilder reads, RouteGroupBuilder writes)
    {
        var known = reads.MapGroup("/batches/{batch}/photos").WithTags("Photos").ProducesProblem(StatusCodes.Status404NotFound);
        known.MapGet("", (PageHome page, string batch) => PhotosAnswer.Of(page.Read().RequireBatch(batch))).WithName("Photos")
            .WithSummary("The photos of a batch, the first taken first, and when each marked seedling was seen first.");
        known.MapGet("/{name}", (PageHome page, PhotoShelf files, HttpContext context, string batch, string name, bool? small) =>
            FileAsync(page, files, context, batch, name, small ?? false)).WithName("Photo")
            .WithSummary("One photo; with small=true a small one, for lists.").Produces<byte[]>(StatusCodes.Status200OK, "image/jpeg");
        var written = writes.MapGroup("/batches/{batch}/photos").WithTags("Photos").ProducesProblem(StatusCodes.Status404NotFound);
        written.MapPost("", TakeAsync).WithName("TakePhoto")
            .WithSummary("Keeps a photo, sent as JPEG, PNG or WebP: turned right, and without place and device.")
            .Accepts<byte[]>("image/jpeg", "image/png", "image/webp").WithMetadata(new PhotoBodyLimit())
            .ProducesProblem(StatusCodes.Status413PayloadTooLarge).ProducesProblem(StatusCodes.Status415UnsupportedMediaType);
        written.MapPut("/{name}/marks", (PageHome page, PhotoShelf files, string batch, string name, IReadOnlyList<PhotoMark> marks) =>
            MarkAsync(page, files, batch, name, marks)).WithName("MarkPhoto")
            .WithSummary("Marks the seedlings on a photo: the marks are the count at its time.");
        written.MapDelete("/{name}", (PageHome page, PhotoShelf files, string batch, string name) =>
            RemoveAsync(page, files, batch, name))
            .WithName("RemovePhoto").WithSummary("Removes a photo, with the count that was made on it.");
    }

    private static async Task<FileContentHttpResult> FileAsync(
        PageHome page, PhotoShelf files, HttpContext context, string batch, string name, bool small)
    {
        var home = page.Read();
        if (BatchPhotos.Find(home.RequireBatch(batch), name) is null || await files.ReadAsync(name, small) is not { } photo)
        {
            throw BadInputException.Unknown($"There is no photo \"{name}\" of {batch}.");
        }

        // What has this name never changes; it is for those who are signed in only.
        context.Response.Headers.CacheControl = "private, max-age=31536000, immutable";
        return TypedResults.File(photo, "image/jpeg");
    }

    private static async Task<Created<PhotoAnswer>> TakeAsync(PageHome page, PhotoShelf files, string batch, string? at, string? note,
        HttpRequest request)
    {
        using var bytes = new MemoryStream();
        await request.Body.CopyToAsync(bytes, request.HttpContext.RequestAborted);
        var photo = await page.WriteAsync((home, now) => new HomePhotos(home, files, now).Take(batch, bytes.ToArray(), at, note));
        return TypedResults.Created($"/api/batches/{Uri.EscapeDataString(batch)}/photos/{photo.Name}", PhotoAnswer.Of(photo));
    }

    private static Task<PhotosAnswer> MarkAsync(
        PageHome page, PhotoShelf files, string batch, string name, IReadOnlyList<PhotoMark> marks) =>
        page.WriteAsync((home, now) => PhotosAnswer.Of(new HomePhotos(home, files, now).Mark(batch, name, new(marks))));

    private static async Task<NoContent> RemoveAsync(PageHome page, PhotoShelf files, string batch, string name)
    {
        await page.WriteAsync((home, now) => new HomePhotos(home, files, now).Remove(batch, name));
        return TypedResults.NoContent();
    }
}

/// <summary>Photos are larger than anything else that is sent here.</summary>
[AttributeUsage(AttributeTargets.Method)]
internal sealed class PhotoBodyLimit : Attribute, IRequestSizeLimitMetadata
{
    public long? MaxRequestBodySize => (long)Bounds.PhotoBytes.High;
}

/// <summary>The photos of a batch.</summary>
/// <param name="Photos">The first taken first.</param>
/// <param name="Seedlings">Each marked seedling: seen first on a photo of that time, and not yet on the one before.</param>
internal sealed record PhotosAnswer(IReadOnlyList<PhotoAnswer> Photos, IReadOnlyList<SeedlingAnswer> Seedlings)
{
    public static PhotosAnswer Of(Batch batch) => new(
        [.. batch.Photos.Select(PhotoAnswer.Of)],
        [.. BatchPhotos.FirstSeen(batch).Select(one => new SeedlingAnswer(one.Seedling, one.NotYet, one.Seen))]);
}

/// <summary>A photo of a batch.</summary>
/// <param name="Name">By which it is asked for.</param>
/// <param name="At">When it was taken.</param>
/// <param name="Note">What it shows, or null.</param>
/// <param name="Marks">Where the seedlings are, as shares of width and height.</param>
internal sealed record PhotoAnswer(string Name, Instant At, string? Note, IReadOnlyList<PhotoMark> Marks)
{
    public static PhotoAnswer Of(BatchPhoto photo) => new(photo.Name, photo.At, photo.Note, photo.Marks);
}

/// <summary>When a marked seedling was seen first.</summary>
/// <param name="Seedling">Its number.</param>
/// <param name="NotYet">The photo before, on which it was not seen; null when there is none.</param>
/// <param name="Seen">The photo on which it was seen first.</param>
internal sealed record SeedlingAnswer(int Seedling, Instant? NotYet, Instant Seen);
