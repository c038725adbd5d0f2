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
                batch.Lot is { } lot ? home.Store.Ledger.Seeds.Lot(lot)?.Variety : null, home.Zone, page))]
            : throw new BadInputException("No batch is under way: name one that has ended.") { Kind = BadInputKind.Contradicts,
                Hint = "Or sow one: chamber sow tomato --seeds 12 --spot SPOT" };
    }

    /// <summary>The page's address as phones reach it: what was typed now, and is kept, or before.</summary>
    /// <param name="settings">Where whoever typed it writes it down.</param>
    /// <param name="typed">What was typed now; null for nothing.</param>
    public static Uri? Remembered(Storage.SettingLedger settings, Uri? typed)
    {
        if (typed is not null)
        {
            settings.Choose(AddressKey, typed.AbsoluteUri);
        }

        return typed ?? (settings.Get(AddressKey) is { } text ? new Uri(text) : null);
    }

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
