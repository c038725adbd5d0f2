using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using NodaTime;
using ScottPlot;

namespace Chamber.Service.Plots;

/// <summary>The pictures of one batch: temperature, warm-hours, counts.</summary>
internal static class BatchPlots
{
    /// <summary>More points than this cannot be told apart in a picture; of each bundle the coolest and the warmest are kept.</summary>
    private const int PointsMax = 1200;

    private const float Thin = 1.2f;
    private const float Bold = 2.2f;

    /// <summary>Temperature with the ideal band, the limits and the gaps.</summary>
    public static Plot Temperature(BatchPicture picture)
    {
        var plot = PlotStyle.New($"{picture.Title}: temperature", TemperatureScales.Unit(picture.Scale));
        double Shown(double celsius) => picture.Scale.In(celsius);
        var band = plot.Add.VerticalSpan(Shown(picture.Crop.IdealBand.Low.Celsius), Shown(picture.Crop.IdealBand.High.Celsius));
        band.FillColor = PlotStyle.Green.WithAlpha(.16);
        band.LineWidth = 0;
        Level(plot, picture, Shown(picture.Crop.HotLimit.Celsius), PlotStyle.Vermillion, 3, 2);
        Level(plot, picture, Shown(picture.Crop.CoolLimit.Celsius), PlotStyle.Blue, 1, 2);
        Gaps(plot, picture);
        foreach (var stretch in picture.Stretches)
        {
            var thinned = Thinned(stretch, PointsMax / Math.Max(1, picture.Stretches.Count));
            var line = plot.Add.ScatterLine(
            thinned.Select(sample => PlotStyle.At(sample.At, picture.Zone)).ToArray(),
            thinned.Select(sample => Shown(sample.Temperature.Celsius)).ToArray());
            line.Color = PlotStyle.Ink;
            line.LineWidth = Thin;
        }

        var (low, high) = TemperatureRange(picture);
        plot.Axes.SetLimitsY(Shown(low), Shown(high));
        Frame(plot, picture);
        Words(plot, picture, Shown(picture.Crop.IdealBand.High.Celsius), "ideal band", PlotStyle.Green, Alignment.UpperRight);
        Words(plot, picture, Shown(picture.Crop.HotLimit.Celsius), "hot limit", PlotStyle.Vermillion, Alignment.LowerRight);
        Words(plot, picture, Shown(picture.Crop.CoolLimit.Celsius), "cool limit", PlotStyle.Blue, Alignment.UpperRight);
        return plot;
    }

    /// <summary>Warm-hours with the forecast window and the observed interval of the first.</summary>
    public static Plot WarmHours(BatchPicture picture)
    {
        var plot = PlotStyle.New($"{picture.Title}: warm-hours", "°C·h");
        if (picture.ForecastFirst is { } window)
        {
            Window(plot, picture, window.Low, window.High, PlotStyle.Sky.WithAlpha(.25), "forecast of the first, right 4 times in 5");
        }

        var seen = FirstSeen.Of(picture.Batch);
        if (seen.By is { } by)
        {
            Window(plot, picture, seen.After, by, PlotStyle.Orange.WithAlpha(.45), "first came up in here");
        }

        var top = 1.0;
        if (picture.Warmth.Count > 0)
        {
            var line = plot.Add.ScatterLine(
            picture.Warmth.Select(point => PlotStyle.At(point.At, picture.Zone)).ToArray(),
            picture.Warmth.Select(point => point.CelsiusHours).ToArray());
            line.Color = PlotStyle.Ink;
            line.LineWidth = Bold;
            line.LegendText = "warm-hours";
            top = picture.Warmth[^1].CelsiusHours;
        }

        if (picture.HalfWarmHours is { } half)
        {
            Level(plot, picture, half, PlotStyle.Quiet, 2, 2);
            Words(plot, picture, half, string.Create(CultureInfo.InvariantCulture, $"half up at {half:0} °C·h"), PlotStyle.Quiet,
                Alignment.LowerRight);
            top = Math.Max(top, half);
        }

        plot.Axes.SetLimitsY(0, top * 1.12);
        Frame(plot, picture);
        Legend(plot, Alignment.UpperLeft);
        return plot;
    }

    /// <summary>Counts as steps, with the curve fitted to them.</summary>
    public static Plot Counts(BatchPicture picture)
    {
        var batch = picture.Batch;
        var plot = PlotStyle.New($"{picture.Title}: how many are up", "seeds up");
        if (picture.Fitted.Count > 0)
        {
            var curve = PlotStyle.Broken(plot, [.. picture.Fitted.Select(point => (PlotStyle.At(point.At, picture.Zone), point.Up))],
                PlotStyle.Blue, Bold, 4, 2);
            curve.LegendText = "fitted curve (broken line)";
        }

        List<(Instant At, int Up)> steps = [(batch.SownAt, 0), .. batch.Looks.Select(look => (look.At, look.Up))];
        var counts = plot.Add.ScatterPoints(
            steps.Skip(1).Select(step => PlotStyle.At(step.At, picture.Zone)).ToArray(),
            steps.Skip(1).Select(step => (double)step.Up).ToArray());
        counts.Color = PlotStyle.Vermillion;
        counts.MarkerSize = 7;
        counts.LegendText = "looks";

        // What was up at the last look is up still: the line goes on to the edge.
        var known = steps.Append((At: Instant.Max(picture.Until, steps[^1].At), steps[^1].Up)).ToList();
        var line = plot.Add.ScatterLine(
            known.Select(step => PlotStyle.At(step.At, picture.Zone)).ToArray(),
            known.Select(step => (double)step.Up).ToArray());
        line.ConnectStyle = ConnectStyle.StepHorizontal;
        line.Color = PlotStyle.Ink;
        line.LineWidth = Thin;
        line.LegendText = "known to be up";
        Level(plot, picture, batch.Seeds, PlotStyle.Quiet, 1, 2);
        Words(plot, picture, batch.Seeds, string.Create(CultureInfo.InvariantCulture, $"{batch.Seeds} sown"), PlotStyle.Quiet,
            Alignment.LowerRight);
        plot.Axes.SetLimitsY(0, batch.Seeds * 1.12);
        Frame(plot, picture);
        Whole(plot, batch.Seeds);
        Legend(plot, Alignment.UpperLeft);
        return plot;
    }

    private static void Level(Plot plot, BatchPicture picture, double at, Color color, int on, int off) =>
        PlotStyle.Broken(plot, (PlotStyle.At(picture.Batch.SownAt, picture.Zone), at), (PlotStyle.At(picture.Until, picture.Zone), at),
            color, 1.5f, on, off);

    private static void Gaps(Plot plot, BatchPicture picture)
    {
        var edges = picture.Stretches.Where(stretch => stretch.Count > 0)
            .Select(stretch => (From: stretch[0].At, To: stretch[^1].At)).ToList();
        var from = picture.Batch.SownAt;
        foreach (var (start, end) in edges.Append((picture.Until, picture.Until)))
        {
            if ((start - from).TotalHours > 1)
            {
                Window(plot, picture, from, start, PlotStyle.Quiet.WithAlpha(.18), string.Empty);
            }

            from = Instant.Max(from, end);
        }
    }

    private static void Window(Plot plot, BatchPicture picture, Instant from, Instant to, Color color, string legend)
    {
        var span = plot.Add.HorizontalSpan(PlotStyle.At(from, picture.Zone), PlotStyle.At(to, picture.Zone));
        span.FillColor = color;
        span.LineWidth = 0;
        span.LegendText = legend;
    }

    /// <summary>The days, and where it was.</summary>
    private static void Frame(Plot plot, BatchPicture picture)
    {
        PlotStyle.Days(plot, picture.Zone, picture.Batch.SownAt, picture.Until);
        var limits = plot.Axes.GetLimits();
        foreach (var (at, spot) in picture.Moves.Skip(1))
        {
            var x = PlotStyle.At(at, picture.Zone);
            PlotStyle.Broken(plot, (x, limits.Bottom), (x, limits.Top), PlotStyle.Quiet, 1, 1, 2);
            var text = plot.Add.Text($"to {spot}", x, limits.Bottom);
            text.LabelFontName = PlotFonts.Family;
            text.LabelFontSize = 11;
            text.LabelFontColor = PlotStyle.Quiet;

            // Near the right edge the words would run out of the picture.
            var isLate = x > limits.Left + 0.6 * (limits.Right - limits.Left);
            text.LabelAlignment = isLate ? Alignment.LowerRight : Alignment.LowerLeft;
            text.OffsetX = isLate ? -4 : 4;
        }
    }

    private static void Words(Plot plot, BatchPicture picture, double y, string words, Color color, Alignment alignment)
    {
        var text = plot.Add.Text(words, PlotStyle.At(picture.Until, picture.Zone), y);
        text.LabelFontName = PlotFonts.Family;
        text.LabelFontSize = 11;
        text.LabelFontColor = color;
        text.LabelAlignment = alignment;
        text.OffsetX = -4;
        text.OffsetY = alignment == Alignment.UpperRight ? 4 : -2;
        text.LabelBackgroundColor = Colors.White.WithAlpha(.7);
    }

    private static void Legend(Plot plot, Alignment alignment)
    {
        plot.Legend.FontName = PlotFonts.Family;
        plot.Legend.FontSize = 11;
        plot.Legend.OutlineColor = Colors.Transparent;
        plot.Legend.ShadowColor = Colors.Transparent;
        plot.Legend.BackgroundColor = Colors.White.WithAlpha(.8);
        plot.ShowLegend(alignment);
    }

    private static void Whole(Plot plot, int seeds)
    {
        var ticks = new ScottPlot.TickGenerators.NumericManual();
        var step = Math.Max(1, (int)Math.Ceiling(seeds / 6.0));
        for (var count = 0; count <= seeds; count += step)
        {
            ticks.AddMajor(count, count.ToString(CultureInfo.InvariantCulture));
        }

        plot.Axes.Left.TickGenerator = ticks;
    }

    private static (double Low, double High) TemperatureRange(BatchPicture picture)
    {
        var all = picture.Stretches.SelectMany(stretch => stretch).Select(sample => sample.Temperature.Celsius)
            .Concat([picture.Crop.CoolLimit.Celsius, picture.Crop.HotLimit.Celsius, picture.Crop.IdealBand.Low.Celsius,
                picture.Crop.IdealBand.High.Celsius])
            .ToList();
        return (all.Min() - 2, all.Max() + 2);
    }

    private static List<TemperatureSample> Thinned(IReadOnlyList<TemperatureSample> samples, int points)
    {
        if (samples.Count <= points)
        {
            return [.. samples];
        }

        var bundle = (int)Math.Ceiling(samples.Count / (points / 2.0));
        return [.. samples.Chunk(bundle).SelectMany(chunk => Extremes(chunk))];
    }

    private static IEnumerable<TemperatureSample> Extremes(TemperatureSample[] chunk)
    {
        var coolest = chunk.MinBy(sample => sample.Temperature);
        var warmest = chunk.MaxBy(sample => sample.Temperature);
        return coolest.At <= warmest.At ? [coolest, warmest] : [warmest, coolest];
    }
}
