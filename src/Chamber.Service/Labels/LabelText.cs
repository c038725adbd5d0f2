using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Service.Labels;

/// <summary>What is on a label.</summary>
/// <param name="Id">The short name, the largest.</param>
/// <param name="What">Crop and variety.</param>
/// <param name="When">Day of sowing.</param>
/// <param name="How">How many, and the method.</param>
/// <param name="Code">Modules of the QR code, row by row with its quiet zone; null without an address.</param>
internal sealed record LabelText(string Id, string What, string When, string How, bool[][]? Code)
{
    public static LabelText Of(Batch batch, Crop? crop, string? variety, DateTimeZone zone, Uri? page)
    {
        var day = batch.SownAt.InZone(zone).Date.ToString("d MMM uuuu", CultureInfo.InvariantCulture);
        return new(
            batch.Id.Text,
            variety is null ? crop?.CommonName ?? batch.Crop.Text : $"{crop?.CommonName ?? batch.Crop.Text}, {variety}",
            day,
            string.Create(CultureInfo.InvariantCulture, $"{batch.Seeds} in {Short(batch.Method)}"),
            page is null ? null : QrModules.Of(new Uri(page, $"batches/{Uri.EscapeDataString(batch.Id.Text)}")));
    }

    /// <summary>A stick has room for one word.</summary>
    private static string Short(SowingMethod method) => method == SowingMethod.DampTowel ? "towel" : "mix";
}
