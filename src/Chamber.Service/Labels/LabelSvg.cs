using System.Globalization;
using System.Text;
using System.Xml;
using Chamber.Service.Plots;

namespace Chamber.Service.Labels;

/// <summary>Labels of one page as SVG, in millimetres.</summary>
internal static class LabelSvg
{
    private const string Namespace = "http://www.w3.org/2000/svg";

    public static string Of(IReadOnlyList<LabelText> labels, LabelLayout layout)
    {
        var text = new StringBuilder();
        using (var xml = XmlWriter.Create(text, new XmlWriterSettings { OmitXmlDeclaration = true, Indent = true, NewLineChars = "\n" }))
        {
            xml.WriteStartElement("svg", Namespace);
            xml.WriteAttributeString("width", Number(layout.PageWidth) + "mm");
            xml.WriteAttributeString("height", Number(layout.PageHeight) + "mm");
            xml.WriteAttributeString("viewBox", $"0 0 {Number(layout.PageWidth)} {Number(layout.PageHeight)}");
            Rectangle(xml, new(0, 0, layout.PageWidth, layout.PageHeight), "#fff", null);
            foreach (var (number, label) in labels.Index())
            {
                Draw(xml, label, layout.Label(number));
            }

            xml.WriteEndElement();
        }

        return text.Append('\n').ToString();
    }

    private static void Draw(XmlWriter xml, LabelText label, Box box)
    {
        Rectangle(xml, box, "none", "#ccc");
        foreach (var (words, x, y, points, bold) in LabelLayout.Texts(label, box))
        {
            xml.WriteStartElement("text", Namespace);
            xml.WriteAttributeString("x", Number(x));
            xml.WriteAttributeString("y", Number(y));
            xml.WriteAttributeString("font-family", $"{PlotFonts.Family}, sans-serif");
            xml.WriteAttributeString("font-size", Number(points * 25.4 / 72));
            xml.WriteAttributeString("font-weight", bold ? "bold" : "normal");
            xml.WriteString(words);
            xml.WriteEndElement();
        }

        DrawCode(xml, label, LabelLayout.Code(box));
    }

    private static void DrawCode(XmlWriter xml, LabelText label, Box square)
    {
        if (label.Code is not { } code)
        {
            return;
        }

        var module = square.Width / code.Length;
        foreach (var (y, row) in code.Index())
        {
            foreach (var (x, length) in LabelPdf.Runs(row))
            {
                Rectangle(xml, new(square.X + x * module, square.Y + y * module, length * module, module), "#000", null);
            }
        }
    }

    private static void Rectangle(XmlWriter xml, Box box, string fill, string? stroke)
    {
        xml.WriteStartElement("rect", Namespace);
        xml.WriteAttributeString("x", Number(box.X));
        xml.WriteAttributeString("y", Number(box.Y));
        xml.WriteAttributeString("width", Number(box.Width));
        xml.WriteAttributeString("height", Number(box.Height));
        xml.WriteAttributeString("fill", fill);
        if (stroke is not null)
        {
            xml.WriteAttributeString("stroke", stroke);
            xml.WriteAttributeString("stroke-width", "0.1");
        }

        xml.WriteEndElement();
    }

    private static string Number(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);
}
