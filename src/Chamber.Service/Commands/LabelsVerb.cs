using System.CommandLine;
using Chamber.Service.Home;
using Chamber.Service.Labels;

namespace Chamber.Service.Commands;

/// <summary>Prints labels: a sheet, or thin ones for sticks, with a code that opens the batch's page.</summary>
internal static class LabelsVerb
{
    /// <summary>The name under which the page's address is remembered.</summary>
    private const string AddressKey = "page-address";

    public static Verb Create()
    {
        var batches = new Argument<string[]>("batch") { Arity = ArgumentArity.ZeroOrMore, Description = "Which batches; all that are under way unless named." };
        var file = new Option<string>("--out") { Required = true, HelpName = "FILE", Description = "A .pdf, or an .svg of one page." };
        var size = Typed.Option<LabelSize?>("--size", "SIZE", "sheet (63 × 34 mm, unless told) or stick (95 × 16 mm).", text => Choice.Parse<LabelSize>(text));
        var paper = Typed.Option<Paper?>("--paper", "PAPER", "a4 (unless told) or letter.", text => PaperOf(text));
        var address = Typed.Option<Uri?>("--url", "URL", "The page's address as the phone reaches it; remembered. Without one there is no code.", Address);
        return new Verb("labels", "Prints labels with the short name, crop, day, and a code for the phone.", "chamber labels --out labels.pdf --url http://pantry.local:8080/", "chamber labels T3 T4 --size stick --out sticks.svg") { batches, file, size, paper, address }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var page = Remembered(invocation.Store, parse.GetValue(address));
                var labels = Labels(invocation.Home, parse.GetValue(batches) ?? [], page);
                var layout = LabelLayout.Of(parse.GetValue(size) ?? LabelSize.Sheet, parse.GetValue(paper) ?? Paper.A4);
                var path = parse.GetValue(file)!;
                Write(path, labels, layout);
                invocation.Answer(new { File = path, Labels = labels.Count, HasCode = page is not null }, screen =>
                {
                    screen.Headline($"{labels.Count} {(labels.Count == 1 ? "label" : "labels")} in {path}.");
                    if (page is null)
                    {
                        screen.Say("They have no code: name the page's address once, as --url http://pantry.local:8080/");
                    }
                });
            });
    }

    private static void Write(string path, List<LabelText> labels, LabelLayout layout)
    {
        switch (Path.GetExtension(path).ToLowerInvariant())
        {
            case ".pdf":
                OutputFiles.Write(path, () => File.WriteAllBytes(path, LabelPdf.Of(labels, layout)));
                break;
            case ".svg" when labels.Count <= layout.PerPage:
                OutputFiles.Write(path, () => File.WriteAllText(path, LabelSvg.Of(labels, layout)));
                break;
            case ".svg":
                throw new BadInputException($"{path}: {labels.Count} labels do not fit on one page of {layout.PerPage}; write a .pdf, or name fewer batches.");
            default:
                throw new BadInputException($"{path}: labels are written as .pdf or .svg.");
        }
    }

    /// <summary>A label for each batch that is named, or for all that are under way.</summary>
    public static List<LabelText> Labels(HomeReader home, IReadOnlyList<string> names, Uri? page)
    {
        var batches = names.Count > 0 ? [.. names.Select(home.RequireBatch)] : home.Store.Ledger.Batches.All(open: true);
        return batches.Count > 0
            ? [.. batches.Select(batch => LabelText.Of(batch, home.Catalog.Find(batch.Crop), batch.Lot is { } lot ? home.Store.Ledger.Seeds.Lot(lot)?.Variety : null, home.Zone, page))]
            : throw new BadInputException("No batch is under way: name one that has ended.") { Kind = BadInputKind.Contradicts, Hint = "Or sow one: chamber sow tomato --seeds 12 --spot SPOT" };
    }

    /// <summary>The page's address as phones reach it: what was typed now, and is kept, or before.</summary>
    public static Uri? Remembered(Storage.ChamberStore store, Uri? typed)
    {
        if (typed is not null)
        {
            store.Ledger.Settings.Set(AddressKey, typed.AbsoluteUri);
        }

        return typed ?? (store.Ledger.Settings.Get(AddressKey) is { } text ? new Uri(text) : null);
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
