using Chamber.Core;
using SkiaSharp;

namespace Chamber.Service.Photos;

/// <summary>
/// Makes of a photo what is kept: turned right, no larger than a screen, and without anything but its pixels, so that neither the place nor
/// the device that it was taken with is kept.
/// </summary>
internal static class PhotoImage
{
    /// <summary>The longer side of a photo that is kept, px.</summary>
    public const int SideMax = 1600;

    /// <summary>The longer side of its small one, px.</summary>
    public const int SmallSideMax = 320;

    private const int Quality = 82;

    // A photo of 60 million pixels takes 240 MB while it is open, whatever its file takes; several at once would take all there is.
    private static readonly Lock OneAtATime = new();

    /// <summary>The photo and its small one, as JPEG.</summary>
    /// <param name="file">The file as it came: JPEG, PNG or WebP.</param>
    /// <exception cref="BadInputException">It is none of these, damaged, or too large.</exception>
    public static (byte[] Photo, byte[] Small) Of(byte[] file)
    {
        Require(Bounds.PhotoBytes.WhyNot(file.Length));
        using var data = SKData.CreateCopy(file);
        using var codec = SKCodec.Create(data)
            ?? throw BadInputException.In("photo", "That file is no photo that can be read: send a JPEG, PNG or WebP.");
        Require(Bounds.PhotoPixels.WhyNot((double)codec.Info.Width * codec.Info.Height));
        using var sized = Opened(codec);
        using var upright = Upright(sized, codec.EncodedOrigin);
        using var small = Sized(upright, SmallSideMax);
        return (Encoded(upright), Encoded(small));
    }

    private static SKBitmap Opened(SKCodec codec)
    {
        lock (OneAtATime)
        {
            using var raw = SKBitmap.Decode(codec) ?? throw BadInputException.In("photo", "The photo is damaged: take it again.");
            return Sized(raw, SideMax);
        }
    }

    private static void Require(string? whyNot)
    {
        if (whyNot is not null)
        {
            throw BadInputException.In("photo", whyNot);
        }
    }

    private static SKBitmap Sized(SKBitmap photo, int side)
    {
        var scale = Math.Min(1, (double)side / Math.Max(photo.Width, photo.Height));
        var info = new SKImageInfo(Math.Max(1, (int)(photo.Width * scale)), Math.Max(1, (int)(photo.Height * scale)));
        return photo.Resize(info, new SKSamplingOptions(SKFilterMode.Linear, SKMipmapMode.Linear));
    }

    private static byte[] Encoded(SKBitmap photo)
    {
        using var encoded = photo.Encode(SKEncodedImageFormat.Jpeg, Quality);
        return encoded.ToArray();
    }

    // Exif 2.32, tag 0x0112: how the camera was held.
    private static SKBitmap Upright(SKBitmap raw, SKEncodedOrigin origin)
    {
        var (degrees, mirrored) = origin switch
        {
            SKEncodedOrigin.TopRight => (0, true),
            SKEncodedOrigin.BottomRight => (180, false),
            SKEncodedOrigin.BottomLeft => (180, true),
            SKEncodedOrigin.LeftTop => (90, true),
            SKEncodedOrigin.RightTop => (90, false),
            SKEncodedOrigin.RightBottom => (270, true),
            SKEncodedOrigin.LeftBottom => (270, false),
            _ => (0, false),
        };
        var turned = degrees is 90 or 270 ? new SKBitmap(raw.Height, raw.Width) : new SKBitmap(raw.Width, raw.Height);
        using var canvas = new SKCanvas(turned);
        canvas.Translate(turned.Width / 2f, turned.Height / 2f);
        canvas.RotateDegrees(degrees);
        canvas.Scale(mirrored ? -1 : 1, 1);
        canvas.Translate(-raw.Width / 2f, -raw.Height / 2f);
        canvas.DrawBitmap(raw, 0, 0);
        return turned;
    }
}
