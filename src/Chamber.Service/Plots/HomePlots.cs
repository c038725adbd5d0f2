using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Forecasts;
using ScottPlot;

namespace Chamber.Service.Plots;

/// <summary>A forecast against what was seen, in days since sowing.</summary>
/// <param name="Batch">Which batch.</param>
/// <param name="Predicted">Days to the first, as forecast at sowing.</param>
/// <param name="Low">Low end of the forecast, 80 %.</param>
/// <param name="High">High end.</param>
/// <param name="After">The first came after this.</param>
/// <param name="By">And by this.</param>
/// <param name="Held">Whether at least half of that interval lies inside the forecast.</param>
internal sealed record Hit(BatchId Batch, double Predicted, double Low, double High, double After, double By, bool Held)
{
    /// <summary>0 inside the observed interval, otherwise the distance to it.</summary>
    public double Error => Predicted < After ? After - Predicted : Math.Max(0, Predicted - By);

    /// <summary>Null when the forecast had no end, so that there is no interval to draw.</summary>
    public static Hit? Of(PredictedActual compared) => compared.Predicted is { Low: { } low, Mid: { } mid, High: { } high }
        ? new(compared.Batch, mid.TotalDays, low.TotalDays, high.TotalDays, compared.After.TotalDays, compared.By.TotalDays,
            compared.DidHold)
        : null;
}

/// <summary>Pictures over all batches.</summary>
internal static class HomePlots
{
    /// <summary>Predicted against actual, with the line on which both are equal.</summary>
    public static Plot PredictedAgainstActual(IReadOnlyList<Hit> hits)
    {
        var plot = PlotStyle.New("Forecast against what was seen", "days to the first, seen");
        plot.Axes.Bottom.Label.Text = "days to the first, forecast at sowing";
        plot.Axes.Bottom.Label.FontSize = 13;
        plot.Axes.Bottom.Label.Bold = false;
        var end = hits.Select(hit => Math.Max(hit.High, hit.By)).DefaultIfEmpty(10).Max() * 1.08;
        PlotStyle.Broken(plot, (0, 0), (end, end), PlotStyle.Quiet, 1);
        foreach (var hit in hits)
        {
            Mark(plot, hit);
        }

        plot.Axes.SetLimits(0, end, 0, end);
        return plot;
    }

    private static void Mark(Plot plot, Hit hit)
    {
        var color = hit.Held ? PlotStyle.Blue : PlotStyle.Vermillion;
        var seen = plot.Add.Line(hit.Predicted, hit.After, hit.Predicted, hit.By);
        seen.LineColor = color;
        seen.LineWidth = 5;
        var middle = (hit.After + hit.By) / 2;
        PlotStyle.Broken(plot, (hit.Low, middle), (hit.High, middle), color, 1.5f, 1, hit.Held ? 0 : 2);
        var name = plot.Add.Text(string.Create(CultureInfo.InvariantCulture, $"{hit.Batch}"), hit.Predicted, hit.By);
        name.LabelFontName = PlotFonts.Family;
        name.LabelFontSize = 11;
        name.LabelFontColor = PlotStyle.Ink;
        name.LabelAlignment = Alignment.LowerLeft;
        name.OffsetX = 4;
    }
}
