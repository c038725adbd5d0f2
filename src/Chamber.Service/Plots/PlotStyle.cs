using System.Globalization;
using NodaTime;
using ScottPlot;
using ScottPlot.TickGenerators;
using Temperature = Chamber.Core.Climate.Temperature;

namespace Chamber.Service.Plots;

/// <summary>How large a picture is made.</summary>
internal enum PlotSize
{
    /// <summary>For a page and for print.</summary>
    Page,

    /// <summary>For a phone held upright.</summary>
    Phone,
}

/// <summary>
/// One look for all pictures. Colours are those of M. Okabe and K. Ito, "Color Universal Design" (2008), which the colour-blind
/// can tell apart; every line also differs in dash, mark or label, so that a grey print can be read.
/// </summary>
internal static class PlotStyle
{
    public static readonly Color Ink = Color.FromHex("#222222");
    public static readonly Color Quiet = Color.FromHex("#6b6b6b");
    public static readonly Color Blue = Color.FromHex("#0072B2");
    public static readonly Color Orange = Color.FromHex("#E69F00");
    public static readonly Color Vermillion = Color.FromHex("#D55E00");
    public static readonly Color Green = Color.FromHex("#009E73");
    public static readonly Color Sky = Color.FromHex("#56B4E9");

    /// <summary>An empty plot with the title on the left, over the axis.</summary>
    public static Plot New(string title, string left)
    {
        PlotFonts.Use();
        var plot = new Plot();
        plot.Font.Set(PlotFonts.Family);
        plot.FigureBackground.Color = Colors.White;
        plot.DataBackground.Color = Colors.White;
        plot.Grid.MajorLineColor = Color.FromHex("#e4e4e4");
        plot.Axes.Color(Quiet);
        plot.Axes.Top.IsVisible = false;
        plot.Axes.Right.IsVisible = false;
        plot.Title(title, 15);
        Name(plot, left);
        return plot;
    }

    private static void Name(Plot plot, string left)
    {
        plot.Axes.Title.Label.ForeColor = Ink;
        plot.Axes.Title.Label.FontName = PlotFonts.Family;
        plot.Axes.Left.Label.Text = left;
        plot.Axes.Left.Label.FontSize = 13;
        plot.Axes.Left.Label.Bold = false;
        plot.Axes.Left.Label.FontName = PlotFonts.Family;
        plot.Axes.Bottom.Label.FontName = PlotFonts.Family;
        plot.Axes.Left.TickLabelStyle.FontName = PlotFonts.Family;
        plot.Axes.Bottom.TickLabelStyle.FontName = PlotFonts.Family;
    }

    /// <summary>Days along the bottom, in the home's time.</summary>
    public static void Days(Plot plot, DateTimeZone zone, Instant from, Instant to)
    {
        var axis = plot.Axes.Bottom;
        axis.TickLabelStyle.FontName = PlotFonts.Family;
        axis.TickLabelStyle.ForeColor = Quiet;
        var days = (to - from).TotalDays;
        var step = Array.Find([1.0, 2, 3, 7, 14, 28, 56, 112], size => days / size <= 7);
        var ticks = new NumericManual();
        // A label at the very edge would be cut off.
        var last = (to - (to - from) * 0.04).InZone(zone).Date;
        for (var day = from.InZone(zone).Date; day <= last; day = day.PlusDays((int)Math.Max(1, step)))
        {
            ticks.AddMajor(day.ToDateTimeUnspecified().ToOADate(), day.ToString("d MMM", CultureInfo.InvariantCulture));
        }

        axis.TickGenerator = ticks;
        plot.Axes.SetLimitsX(At(from, zone), At(to, zone));
    }

    /// <summary>Hours along the bottom, in the home's time.</summary>
    public static void Hours(Plot plot, DateTimeZone zone, Instant from, Instant to)
    {
        const int step = 6;
        var ticks = new NumericManual();
        var first = from.InZone(zone).LocalDateTime;
        for (var at = first.Date.AtMidnight(); at.InZoneLeniently(zone).ToInstant() < to - Duration.FromHours(1); at = at.PlusHours(step))
        {
            if (at >= first)
            {
                ticks.AddMajor(at.ToDateTimeUnspecified().ToOADate(),
                    at.ToString(at.Hour == 0 ? "d MMM" : "HH:mm", CultureInfo.InvariantCulture));
            }
        }

        plot.Axes.Bottom.TickLabelStyle.ForeColor = Quiet;
        plot.Axes.Bottom.TickGenerator = ticks;
        plot.Axes.SetLimitsX(At(from, zone), At(to, zone));
    }

    /// <summary>
    /// A broken line, drawn as pieces: the SVG canvas of SkiaSharp leaves dash patterns out, and then lines would differ by colour alone.
    /// </summary>
    /// <param name="plot">Where to.</param>
    /// <param name="points">Many points along the line, evenly spread.</param>
    /// <param name="color">Its colour.</param>
    /// <param name="width">Its width.</param>
    /// <param name="on">Points drawn.</param>
    /// <param name="off">Points left out after those.</param>
    public static ScottPlot.Plottables.Scatter Broken(Plot plot, IReadOnlyList<(double X, double Y)> points, Color color, float width,
        int on, int off)
    {
        var line = plot.Add.ScatterLine(
            points.Select(point => point.X).ToArray(),
            points.Select((point, i) => i % (on + off) <= on ? point.Y : double.NaN).ToArray());
        line.Color = color;
        line.LineWidth = width;
        return line;
    }

    /// <summary>A straight broken line.</summary>
    public static ScottPlot.Plottables.Scatter Broken(Plot plot, (double X, double Y) from, (double X, double Y) to, Color color,
        float width, int on = 2, int off = 2)
    {
        const int pieces = 160;
        return Broken(plot,
            [.. Enumerable.Range(0, pieces + 1)
            .Select(i => (from.X + (to.X - from.X) * i / pieces, from.Y + (to.Y - from.Y) * i / pieces))], color, width, on, off);
    }

    /// <summary>An instant as the axis counts it.</summary>
    public static double At(Instant at, DateTimeZone zone) => at.InZone(zone).ToDateTimeUnspecified().ToOADate();

    /// <summary>A temperature in the scale that is shown.</summary>
    public static double In(this TemperatureScale scale, double celsius) =>
        scale == TemperatureScale.Celsius ? celsius : Temperature.FromCelsius(celsius).Fahrenheit;

    public static byte[] Png(Plot plot, PlotSize size)
    {
        var (width, height) = Scaled(plot, size, print: true);
        return plot.GetImageBytes(width, height, ImageFormat.Png);
    }

    public static string Svg(Plot plot, PlotSize size)
    {
        var (width, height) = Scaled(plot, size, print: false);
        return plot.GetSvgXml(width, height);
    }

    private static (int Width, int Height) Scaled(Plot plot, PlotSize size, bool print)
    {
        // Twice the points, so that a print or a sharp screen shows no steps.
        plot.ScaleFactor = print ? 2 : 1;
        var scale = print ? 2 : 1;
        return size == PlotSize.Page ? (900 * scale, 400 * scale) : (360 * scale, 320 * scale);
    }
}
