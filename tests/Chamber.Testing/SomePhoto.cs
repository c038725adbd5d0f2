using System.Buffers.Binary;
using System.IO.Compression;
using SkiaSharp;

namespace Chamber.Testing;

/// <summary>Drawn photos.</summary>
public static class SomePhoto
{
    /// <summary>Its left half has a colour, its right half is black.</summary>
    public static byte[] Jpeg(int width, int height, SKColor left) => Encoded(width, height, left, SKEncodedImageFormat.Jpeg);

    /// <summary>A small one whose header claims another side (ISO/IEC 15948: width and height from byte 16, the chunk's CRC from byte
    /// 29).</summary>
    public static byte[] PngThatClaims(uint side)
    {
        var png = Encoded(8, 8, SKColors.Black, SKEncodedImageFormat.Png);
        BinaryPrimitives.WriteUInt32BigEndian(png.AsSpan(16), side);
        BinaryPrimitives.WriteUInt32BigEndian(png.AsSpan(20), side);
        BinaryPrimitives.WriteUInt32BigEndian(png.AsSpan(29), Crc(png.AsSpan(12, 17)));
        return png;
    }

    /// <summary>A black one of three bytes a pixel: of very many pixels its file takes a thousandth of them (ISO/IEC 15948, clauses 5 and
    /// 11).</summary>
    public static byte[] PlainPng(int width, int height)
    {
        using var rows = new MemoryStream();
        using (var packed = new ZLibStream(rows, CompressionLevel.Optimal, leaveOpen: true))
        {
            var row = new byte[1 + (3 * width)];
            for (var line = 0; line < height; line++)
            {
                packed.Write(row);
            }
        }

        var head = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(head, width);
        BinaryPrimitives.WriteInt32BigEndian(head.AsSpan(4), height);
        (head[8], head[9]) = (8, 2);
        return [0x89, .. "PNG\r\n\u001a\n"u8, .. Chunk("IHDR"u8, head), .. Chunk("IDAT"u8, rows.ToArray()), .. Chunk("IEND"u8, [])];
    }

    private static byte[] Chunk(ReadOnlySpan<byte> name, ReadOnlySpan<byte> content)
    {
        byte[] chunk = [0, 0, 0, 0, .. name, .. content, 0, 0, 0, 0];
        BinaryPrimitives.WriteInt32BigEndian(chunk, content.Length);
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(chunk.Length - 4), Crc(chunk.AsSpan(4, content.Length + 4)));
        return chunk;
    }

    // ISO/IEC 15948, annex D.
    private static uint Crc(ReadOnlySpan<byte> bytes)
    {
        var crc = uint.MaxValue;
        foreach (var one in bytes)
        {
            crc ^= one;
            for (var bit = 0; bit < 8; bit++)
            {
                crc = (crc & 1) == 1 ? 0xEDB88320 ^ (crc >> 1) : crc >> 1;
            }
        }

        return ~crc;
    }

    /// <summary>As a camera writes it that was held upright: with its maker, and the turn (Exif 2.32, tags 0x010F and 0x0112).</summary>
    public static byte[] WithExif(byte[] jpeg)
    {
        byte[] exif =
        [
            .. "Exif\0\0"u8, .. "II*\0"u8, 8, 0, 0, 0, 2, 0,
            0x0F, 0x01, 2, 0, 4, 0, 0, 0, .. "CAM\0"u8,
            0x12, 0x01, 3, 0, 1, 0, 0, 0, 6, 0, 0, 0,
            0, 0, 0, 0,
        ];
        return [.. jpeg[..2], 0xFF, 0xE1, 0, (byte)(exif.Length + 2), .. exif, .. jpeg[2..]];
    }

    private static byte[] Encoded(int width, int height, SKColor left, SKEncodedImageFormat format)
    {
        using var photo = new SKBitmap(width, height);
        photo.Erase(SKColors.Black);
        photo.Erase(left, new SKRectI(0, 0, width / 2, height));
        using var encoded = photo.Encode(format, 90);
        return encoded.ToArray();
    }
}
