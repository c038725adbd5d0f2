using Chamber.Core.Batches;
using Chamber.Core.Forecasts;
using Chamber.Service.Home;
using NodaTime;
using ScottPlot;

namespace Chamber.Service.Plots;

/// <summary>What the forecast said on each day, against what came of it.</summary>
internal static class ReplayPlot
{
    public static Plot Of(Batch batch, IReadOnlyList<ReplayDay> days, DateTimeZone zone)
    {
        var plot = PlotStyle.New($"{batch.Id}: what the forecast said on each day", "half up, days after sowing");
        double[] x = [.. days.Select(day => PlotStyle.At(day.At, zone))];
        double[] high = [.. days.Select(day => day.Forecast.Half.High?.TotalDays ?? double.NaN)];
        Band(plot, x, [.. days.Select(day => day.Forecast.Half.Low?.TotalDays ?? double.NaN)], high);
        Middle(plot, x, [.. days.Select(day => day.Forecast.Half.Mid?.TotalDays ?? double.NaN)]);
        var last = PlotStyle.At(days[^1].At + Duration.FromHours(12), zone);
        var seen = HomeHindsight.Compare(batch, days[0].Forecast).FirstOrDefault(each => each.Milestone == Milestone.Half);
        if (seen is not null)
        {
            Seen(plot, x[0], last, seen);
        }

        foreach (var look in batch.Looks)
        {
            var mark = plot.Add.Marker(PlotStyle.At(look.At, zone), 0, look.Up > 0 ? MarkerShape.FilledCircle : MarkerShape.OpenCircle, 7,
                PlotStyle.Ink);
            mark.LegendText = string.Empty;
        }

        PlotStyle.Days(plot, zone, days[0].At, days[^1].At + Duration.FromHours(12));
        plot.Axes.SetLimitsY(0, 1.1 * high.Where(double.IsFinite).Append(seen?.By.TotalDays ?? 1).Max());
        plot.ShowLegend(Alignment.LowerRight);
        plot.Legend.FontName = PlotFonts.Family;
        return plot;
    }

    private static void Band(Plot plot, double[] x, double[] low, double[] high)
    {
        // Where there is no end the band stops rather than pretends one.
        var known = Enumerable.Range(0, x.Length).Where(i => double.IsFinite(low[i]) && double.IsFinite(high[i])).ToArray();
        if (known.Length < 2)
        {
            return;
        }

        var band = plot.Add.FillY([.. known.Select(i => x[i])], [.. known.Select(i => low[i])], [.. known.Select(i => high[i])]);
        band.FillColor = PlotStyle.Sky.WithAlpha(.35);
        band.LineWidth = 0;
        band.LegendText = "right about 4 times in 5";
    }

    private static void Middle(Plot plot, double[] x, double[] mid)
    {
        var line = plot.Add.ScatterLine(x, mid);
        line.Color = PlotStyle.Blue;
        line.LineWidth = 2;
        line.LegendText = "forecast of half up";
    }

    private static void Seen(Plot plot, double from, double to, PredictedActual seen)
    {
        var box = plot.Add.Rectangle(from, to, seen.After.TotalDays, seen.By.TotalDays);
        box.FillColor = PlotStyle.Orange.WithAlpha(.3);
        box.LineColor = PlotStyle.Orange;
        box.LineWidth = 1;
        box.LegendText = "half up, as seen between two looks";
    }
}
