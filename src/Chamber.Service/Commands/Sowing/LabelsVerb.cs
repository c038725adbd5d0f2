using System.CommandLine;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Labels;

namespace Chamber.Service.Commands.Sowing;

/// <summary>Prints labels: a sheet, or thin ones for sticks, with a code that opens the batch's page.</summary>
internal static class LabelsVerb
{
    public static Verb Create()
    {
        var batches = new Argument<string[]>("batch") { Arity = ArgumentArity.ZeroOrMore,
            Description = "Which batches. Default: all under way." };
        var file = new Option<string>("--out") { Required = true, HelpName = "FILE", Description = "A .pdf, or one page as .svg." };
        var size = Typed.Option<LabelSize?>("--size", "SIZE", "sheet (63 × 34 mm, the default) or stick (95 × 16 mm).",
            text => Choice.Parse<LabelSize>(text));
        var paper = Typed.Option<Paper?>("--paper", "PAPER", "a4 (default) or letter.", text => HomeLabels.PaperOf(text));
        var address = Typed.Option<Uri?>("--url", "URL",
            "The address at which a phone reaches the page; it is remembered. Without it there is no code.", HomeLabels.Address);
        return new Verb("labels", "Makes labels with the short name, the crop, the day, and a code for the phone.",
            "chamber labels --out labels.pdf --url http://pantry.local:8080/",
            "chamber labels T3 T4 --size stick --out sticks.svg") { batches, file, size, paper, address }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                if (parse.GetValue(address) is { } typed)
                {
                    HomeLabels.Remember(invocation.Pen.Choose, typed);
                }

                var page = HomeLabels.Remembered(invocation.Home);
                var labels = HomeLabels.Of(invocation.Home, parse.GetValue(batches) ?? [], page);
                var layout = LabelLayout.Of(parse.GetValue(size) ?? LabelSize.Sheet, parse.GetValue(paper) ?? Paper.A4);
                var path = parse.GetValue(file)!;
                Write(path, labels, layout);
                invocation.Answer(new { File = path, Labels = labels.Count, HasCode = page is not null }, screen =>
                {
                    screen.Headline($"{labels.Count} {(labels.Count == 1 ? "label" : "labels")} in {path}.");
                    if (page is null)
                    {
                        screen.Say("They have no code: give the page's address once, with --url http://pantry.local:8080/");
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
                throw new BadInputException(
                    $"{path}: {labels.Count} labels do not fit on one page of {layout.PerPage}; write a .pdf, or name fewer batches.");
            default:
                throw new BadInputException($"{path}: labels are written as .pdf or .svg.");
        }
    }
}
