using System.Text;
using Chamber.Core.Cautions;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using Chamber.Testing;

namespace Chamber.Core.Tests.Cautions;

public sealed class CautionsDocumentTests
{
    /// <summary>Rewritten when CHAMBER_ANSWERS is <c>write</c>.</summary>
    [Fact]
    public void The_document_of_cautions_is_in_step_with_the_catalogue()
    {
        var path = SourceTree.Path("docs", "cautions.md");
        var page = Write();
        if (Environment.GetEnvironmentVariable("CHAMBER_ANSWERS") == "write")
        {
            File.WriteAllText(path, page);
            return;
        }

        Assert.Equal(File.ReadAllText(path), page);
    }

    private static string Write()
    {
        var page = new StringBuilder($"""
            # Cautions

            What Chamber tells people to mind, and when. {CautionText.Deference} Chamber reads and advises; it never switches anything.

            A caution is shown in full at the act that it belongs to: setting up, sowing, an alert that sends a hand somewhere. Wherever it
            is repeated it is one short line with a way to the rest: "more" on the page, `chamber cautions heat-mat` on the command line,
            `/api/cautions/heat-mat` for programs. Page, command line, notices, digest and API take the same words from one catalogue,
            `src/Chamber.Core/Cautions`, from which this document is written too.

            ## Each caution

            """);
        foreach (var caution in CautionBook.All)
        {
            page.Append($"\n### {caution.Name}\n\n*{caution.Line}*\n\n{caution.Full}\n\nShown {caution.Where}. Source: "
                + $"{caution.Source}.\n");
        }

        page.Append("\n## By kind of spot\n\nThe first is the spot's own, which stands wherever the spot is named; all are shown when it "
            + "is set up.\n\n| kind | cautions |\n| --- | --- |\n");
        foreach (var kind in Enum.GetValues<SpotKind>())
        {
            page.Append(
                $"| {kind} | {string.Join(", ", CautionRules.Of(kind).Select(caution => $"[{caution.Name}](#{caution.Name})"))} |\n");
        }

        page.Append("\n## Crops that can hurt\n\nFrom `src/Chamber.Core/Crops/Data/hazards.csv`. A crop that is not in the list is not "
            + "thereby harmless: no source was found. Your own crop is asked about until you answer.\n\n| crop | what | source |\n| "
            + "--- | --- | --- |\n");
        foreach (var crop in CropCatalog.Shipped.Crops)
        {
            foreach (var hazard in crop.Hazards)
            {
                page.Append($"| {crop.CommonName} | {hazard.Words}. {hazard.Advice} | {hazard.Source} |\n");
            }
        }

        return page.ToString();
    }
}
