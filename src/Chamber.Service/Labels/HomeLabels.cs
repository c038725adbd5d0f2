using Chamber.Service.Home;

namespace Chamber.Service.Labels;

/// <summary>The labels of this home's batches.</summary>
internal static class HomeLabels
{
    /// <summary>The name under which the page's address is remembered.</summary>
    private const string AddressKey = "page-address";

    /// <summary>A label for each batch that is named, or for all that are under way.</summary>
    public static List<LabelText> Of(HomeReader home, IReadOnlyList<string> names, Uri? page)
    {
        var batches = names.Count > 0 ? [.. names.Select(home.RequireBatch)] : home.Ledger.OpenBatches;
        return batches.Count > 0
            ? [.. batches.Select(batch => LabelText.Of(batch, home.Catalog.Find(batch.Crop),
                batch.Lot is { } lot ? home.Ledger.Lot(lot)?.Variety : null, home.Zone, page))]
            : throw new BadInputException("No batch is under way: name one that has ended.") { Kind = BadInputKind.Contradicts,
                Hint = "Or sow one: chamber sow tomato --seeds 12 --spot SPOT" };
    }

    /// <summary>The page's address as phones reach it, as somebody typed it; null when nobody has.</summary>
    public static Uri? Remembered(HomeReader home) =>
        home.Ledger.Settings.TryGetValue(AddressKey, out var text) ? new Uri(text) : null;

    /// <summary>Keeps the page's address as somebody typed it now.</summary>
    /// <param name="choose">Writes it down under a name, for whoever typed it.</param>
    /// <param name="typed">What was typed.</param>
    public static void Remember(Action<string, string?> choose, Uri typed) => choose(AddressKey, typed.AbsoluteUri);

    public static Paper PaperOf(string text) => text.Trim().ToUpperInvariant() switch
    {
        "A4" => Paper.A4,
        "LETTER" => Paper.Letter,
        _ => throw new FormatException($"\"{text}\" is none of a4, letter."),
    };

    public static Uri Address(string text) =>
        Uri.TryCreate(text.EndsWith('/') ? text : text + "/", UriKind.Absolute, out var address) && address.Scheme is "http" or "https"
            ? address
            : throw new FormatException($"\"{text}\" is not an address: write http://pantry.local:8080/");
}
