using Chamber.Service.Plots;
using PdfSharp.Drawing;
using PdfSharp.Fonts;
using PdfSharp.Pdf;

namespace Chamber.Service.Labels;

/// <summary>Labels as a PDF, with the font inside.</summary>
internal static class LabelPdf
{
    private static readonly Lazy<bool> Fonts = new(UseOwnFonts);

    public static byte[] Of(IReadOnlyList<LabelText> labels, LabelLayout layout)
    {
        _ = Fonts.Value;
        using var document = new PdfDocument();
        document.Info.Title = "Labels";
        foreach (var page in labels.Chunk(layout.PerPage))
        {
            Draw(document.AddPage(), page, layout);
        }

        using var stream = new MemoryStream();
        document.Save(stream, closeStream: false);
        return stream.ToArray();
    }

    private static void Draw(PdfPage page, LabelText[] labels, LabelLayout layout)
    {
        page.Width = XUnit.FromMillimeter(layout.PageWidth);
        page.Height = XUnit.FromMillimeter(layout.PageHeight);
        using var graphics = XGraphics.FromPdfPage(page, XGraphicsUnit.Millimeter);
        var cut = new XPen(XColors.LightGray, 0.1);
        foreach (var (number, label) in labels.Index())
        {
            var box = layout.Label(number);
            graphics.DrawRectangle(cut, box.X, box.Y, box.Width, box.Height);
            foreach (var (text, x, y, points, bold) in LabelLayout.Texts(label, box))
            {
                var font = new XFont(PlotFonts.Family, points * 25.4 / 72, bold ? XFontStyleEx.Bold : XFontStyleEx.Regular);
                graphics.DrawString(text, font, XBrushes.Black, x, y);
            }

            DrawCode(graphics, label, LabelLayout.Code(box));
        }
    }

    private static void DrawCode(XGraphics graphics, LabelText label, Box square)
    {
        if (label.Code is not { } code)
        {
            return;
        }

        var module = square.Width / code.Length;
        foreach (var (y, row) in code.Index())
        {
            foreach (var (x, length) in Runs(row))
            {
                graphics.DrawRectangle(XBrushes.Black, square.X + x * module, square.Y + y * module, length * module, module);
            }
        }
    }

    /// <summary>Neighbouring dark modules as one box: no hairlines between them, and a smaller file.</summary>
    internal static IEnumerable<(int Start, int Length)> Runs(bool[] row)
    {
        for (var start = 0; start < row.Length; start++)
        {
            if (!row[start])
            {
                continue;
            }

            var end = start;
            while (end < row.Length && row[end])
            {
                end++;
            }

            yield return (start, end - start);
            start = end;
        }
    }

    private static bool UseOwnFonts()
    {
        GlobalFontSettings.FontResolver = new Resolver();
        return true;
    }

    private sealed class Resolver : IFontResolver
    {
        public byte[]? GetFont(string faceName) => PlotFonts.Bytes(faceName == "bold");

        public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic) => new(isBold ? "bold" : "regular");
    }
}
