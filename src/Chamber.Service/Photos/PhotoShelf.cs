using System.Buffers;
using System.Security.Cryptography;

namespace Chamber.Service.Photos;

/// <summary>Where the photos of a home are kept: each called by what is in it, so that none is ever overwritten and a renamed batch keeps
/// its own. Beside each lies a small one for lists. Any thread may ask.</summary>
internal abstract class PhotoShelf
{
    protected const string Ending = ".jpg";
    protected const string SmallEnding = ".small.jpg";

    private const int NameBytes = 10;
    private static readonly SearchValues<char> HexDigits = SearchValues.Create("0123456789abcdef");

    /// <summary>Makes of a file what is kept, and keeps it.</summary>
    /// <param name="file">The file as it came: JPEG, PNG or WebP.</param>
    /// <returns>Its name.</returns>
    /// <exception cref="BadInputException">It is none of these, damaged, too large, or cannot be kept.</exception>
    public string Keep(byte[] file)
    {
        var (photo, small) = PhotoImage.Of(file);
        var name = NameOf(photo);
        AtHand.Of(WriteAsync(name, photo, small));
        return name;
    }

    /// <summary>A photo, or its small one; null when there is none of this name.</summary>
    public async ValueTask<byte[]?> ReadAsync(string name, bool small = false) =>
        IsName(name) ? await FindAsync(small ? SmallOf(name) : name) : null;

    /// <summary>Keeps both under their names; one that is there already is the same.</summary>
    /// <returns>Nothing that matters.</returns>
    protected abstract ValueTask<bool> WriteAsync(string name, byte[] photo, byte[] small);

    /// <summary>A file by its name; null when there is none.</summary>
    protected abstract ValueTask<byte[]?> FindAsync(string name);

    protected static string SmallOf(string name) => name[..^Ending.Length] + SmallEnding;

    // No other name leads anywhere: it may come from a stranger.
    protected static bool IsName(string name) =>
        name.Length == 2 * NameBytes + Ending.Length && name.EndsWith(Ending, StringComparison.Ordinal)
        && name.AsSpan(0, 2 * NameBytes).IndexOfAnyExcept(HexDigits) < 0;

    private static string NameOf(byte[] photo) =>
        Convert.ToHexStringLower(SHA256.HashData(photo).AsSpan(0, NameBytes)) + Ending;
}
