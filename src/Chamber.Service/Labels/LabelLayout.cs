namespace Chamber.Service.Labels;

/// <summary>Which labels are printed.</summary>
internal enum LabelSize
{
    /// <summary>Three across, for trays and boxes.</summary>
    Sheet,

    /// <summary>Long and thin, for a stick in the pot.</summary>
    Stick,
}

/// <summary>Paper sizes.</summary>
internal enum Paper
{
    A4,
    Letter,
}

/// <summary>A box on the paper, millimetres from the upper left corner.</summary>
internal readonly record struct Box(double X, double Y, double Width, double Height);

/// <summary>Where things stand, in millimetres; labels are cut along thin lines, so any plain paper will do.</summary>
internal sealed record LabelLayout(double PageWidth, double PageHeight, double LabelWidth, double LabelHeight, int Columns, int Rows)
{
    private const double Margin = 10;

    public int PerPage => Columns * Rows;

    public static LabelLayout Of(LabelSize size, Paper paper)
    {
        var (width, height) = paper == Paper.A4 ? (210.0, 297.0) : (215.9, 279.4);
        var (labelWidth, labelHeight, columns) = size == LabelSize.Sheet ? (63.0, 34.0, 3) : (95.0, 16.0, 2);
        return new(width, height, labelWidth, labelHeight, columns, (int)((height - 2 * Margin) / labelHeight));
    }

    /// <summary>The box of a label by its number on the page, counted along rows.</summary>
    public Box Label(int number) => new(
        (PageWidth - Columns * LabelWidth) / 2 + number % Columns * LabelWidth,
        Margin + number / Columns * LabelHeight,
        LabelWidth,
        LabelHeight);

    /// <summary>What is drawn on a label: texts with their size in points, and the square of the code.</summary>
    public static IEnumerable<(string Text, double X, double Y, double Points, bool Bold)> Texts(LabelText label, Box box)
    {
        var room = box.Width - 4 - (label.Code is null ? 0 : CodeSide(box));
        if (box.Height < 20)
        {
            yield return (label.Id, box.X + 2, box.Y + 10.5, 22, true);
            var left = box.X + 2 + Math.Max(14, label.Id.Length * 5.2);
            var narrow = room - (left - box.X) + 2;
            yield return (Cut(label.What, narrow, 10), left, box.Y + 6.5, 10, false);
            yield return (Cut($"{label.When}, {label.How}", narrow, 8), left, box.Y + 11.5, 8, false);
            yield break;
        }

        yield return (Cut(label.Id, room, 30), box.X + 3, box.Y + 13, 30, true);
        yield return (Cut(label.What, room, 11), box.X + 3, box.Y + 20, 11, false);
        yield return (Cut(label.When, room, 8), box.X + 3, box.Y + 25.5, 8, false);
        yield return (Cut(label.How, room, 8), box.X + 3, box.Y + 30, 8, false);
    }

    /// <summary>The square of the code, at the right edge.</summary>
    public static Box Code(Box box)
    {
        var side = CodeSide(box);
        return new(box.X + box.Width - side - 0.5, box.Y + (box.Height - side) / 2, side, side);
    }

    private static double CodeSide(Box box) => Math.Min(box.Height - 1, 26);

    /// <summary>Cuts a text to the room there is: DejaVu Sans is about 0.6 of its size wide; a point is 0.353 mm.</summary>
    private static string Cut(string text, double millimetres, double points)
    {
        var fits = Math.Max(1, (int)(millimetres / (points * 0.353 * 0.58)));
        return text.Length <= fits ? text : string.Concat(text.AsSpan(0, Math.Max(1, fits - 1)), "…");
    }
}
