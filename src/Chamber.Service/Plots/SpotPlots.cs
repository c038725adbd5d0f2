using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using Chamber.Service.Home;
using Chamber.Service.Home.Watching;
using NodaTime;
using ScottPlot;

namespace Chamber.Service.Plots;

/// <summary>The last day and a half of a spot, as it goes into a mail.</summary>
internal static class SpotPlots
{
    private static readonly Duration Length = Duration.FromHours(36);

    /// <summary>The picture and what it shows in words; null when nothing was measured.</summary>
    public static NoticePicture? LastDay(HomeReader home, SpotId spot, Instant until)
    {
        var when = new Interval(until - Length, until);
        var stretches = home.Trace(spot, when).Stretches.Select(stretch => stretch.Samples.ToList())
            .Where(samples => samples.Count > 0).ToList();
        if (stretches.Count == 0)
        {
            return null;
        }

        // The crop that is there first; several crops' limits would make the picture hard to read.
        var crop = home.Ledger.OpenBatches
            .Where(batch => batch.Stays is [.., { When.HasEnd: false } stay] && stay.Spot == spot)
            .Select(batch => home.Catalog.Find(batch.Crop)).FirstOrDefault(found => found is not null);
        return new(PlotStyle.Png(Draw(home, spot, when, stretches, crop), PlotSize.Page), Alt(home, spot, stretches));
    }

    internal static Plot Draw(HomeReader home, SpotId spot, Interval when, List<List<TemperatureSample>> stretches, Crop? crop)
    {
        var plot = PlotStyle.New($"{spot}: the last {Length.TotalHours:0} h", home.Scale.Unit());
        double Shown(Temperature temperature) => home.Scale.In(temperature.Celsius);
        foreach (var samples in stretches)
        {
            var line = plot.Add.Scatter(
                samples.Select(sample => PlotStyle.At(sample.At, home.Zone)).ToArray(),
                samples.Select(sample => Shown(sample.Temperature)).ToArray());
            line.Color = PlotStyle.Ink;
            line.LineWidth = 1.8f;
            line.MarkerSize = samples.Count == 1 ? 7 : 0;
        }

        var all = stretches.SelectMany(samples => samples).Select(sample => sample.Temperature).ToList();
        if (crop is not null)
        {
            Limits(plot, when, home, crop);
            all.AddRange([crop.IdealBand.Low, crop.IdealBand.High]);
        }

        plot.Axes.SetLimitsY(Shown(all.Min()) - 1, Shown(all.Max()) + 1);
        PlotStyle.Hours(plot, home.Zone, when.Start, when.End);
        return plot;
    }

    private static void Limits(Plot plot, Interval when, HomeReader home, Crop crop)
    {
        double Shown(Temperature temperature) => home.Scale.In(temperature.Celsius);
        var band = plot.Add.VerticalSpan(Shown(crop.IdealBand.Low), Shown(crop.IdealBand.High));
        band.FillColor = PlotStyle.Green.WithAlpha(.16);
        band.LineWidth = 0;
        var name = plot.Add.Text($"ideal for {crop.CommonName}", PlotStyle.At(when.Start, home.Zone), Shown(crop.IdealBand.High));
        name.LabelFontName = PlotFonts.Family;
        name.LabelFontSize = 12;
        name.LabelFontColor = PlotStyle.Green;
        name.LabelAlignment = Alignment.UpperLeft;
        name.OffsetX = 6;
    }

    private static string Alt(HomeReader home, SpotId spot, List<List<TemperatureSample>> stretches)
    {
        var all = stretches.SelectMany(samples => samples).ToList();
        var (low, high) = (all.Select(sample => sample.Temperature).Min(), all.Select(sample => sample.Temperature).Max());
        return string.Create(
            CultureInfo.InvariantCulture,
            $"Temperature on {spot} over the last {Length.TotalHours:0} h: from {home.Scale.Show(low)} to {home.Scale.Show(high)}, last "
                + $"{home.Scale.Show(all[^1].Temperature)}.");
    }
}
