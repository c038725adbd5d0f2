using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts.BeforeSowing;
using Chamber.Testing;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>
/// Whether the 80 % windows of a first batch hold 80 % of what others have published and the forecast was not made from: the cells of J.F.
/// Harrington &amp; P.A. Minges (1954), each left out in turn; published thermal times; the usual days of packets and handbooks, each
/// crop's predicted by how the other crops' lie; and for profiles derived from usual days alone, the cells as if there were no table.
/// </summary>
public sealed class WindowTests(ITestOutputHelper output)
{
    private const int Seeds = 50;

    private sealed record Case(string Crop, double Celsius, double Days, double? Low, double? High)
    {
        public int Side => Low is null || High is null || Days > High ? 1 : Days < Low ? -1 : 0;
    }

    private static readonly Crop[] Measured =
        [.. CropCatalog.Shipped.Crops.Where(crop => crop.Profile.Origin == ProfileOrigin.Fitted)];

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public void Eighty_percent_windows_hold_what_was_published_and_not_used()
    {
        (string What, Case[] Cases)[] groups =
        [
            ("cells of the 1954 table, left out", [.. Measured.SelectMany(Cells)]),
            ("published thermal times, 15 to 25 °C", [.. ThermalTimes()]),
            ("usual days, crops of the table and relatives", [.. UsualDaysOfOthers()]),
            ("cells of 15 to 25 °C, derived from usual days", [.. Measured.SelectMany(AsIfDerived)]),
        ];
        output.WriteLine($"{"",-48} {"cases",5} {"held",6} {"sooner",6} {"later",6}");
        foreach (var (what, cases) in groups)
        {
            var (sooner, later) = (cases.Count(one => one.Side < 0), cases.Count(one => one.Side > 0));
            output.WriteLine($"{what,-48} {cases.Length,5} {Held(cases),6:0.0%} {sooner,6} {later,6}");
        }

        foreach (var miss in groups.SelectMany(group => group.Cases).Where(one => one.Side != 0))
        {
            output.WriteLine($"  missed: {miss.Crop} at {miss.Celsius:0} °C: {miss.Days:0.0} d, window {miss.Low:0.0} to {miss.High:0.0}");
        }

        Assert.Equal([81, 72, 52, 68], groups.Select(group => group.Cases.Length));
        Assert.All(groups, group => Assert.True(Held(group.Cases) >= 0.8, $"{group.What}: {Held(group.Cases):0.00}"));
        Assert.True(groups.Average(group => Held(group.Cases)) < 0.95, "wider than need be");
    }

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public void Crops_are_about_as_often_before_as_after_their_usual_days()
    {
        var (before, after, missed) = (new List<string>(), new List<string>(), new List<string>());
        foreach (var crop in CropCatalog.Shipped.Crops)
        {
            var (usual, room) = (crop.Guide!.TypicalDays!.Value, UsualDays.HoldAt(BandOf(crop)));

            // Packets count from the warmth, not from the chill before it.
            var window = CropForecast.AtSteady(new(crop with { Needs = [] }, Seeds), room).Half;
            var mid = window.Mid!.Value.TotalDays;
            (mid < usual.Low - 0.5 ? before : mid > usual.High + 0.5 ? after : []).Add(crop.Id.Text);
            if (window.High!.Value.TotalDays < usual.Low || window.Low!.Value.TotalDays > usual.High)
            {
                missed.Add(crop.Id.Text);
            }
        }

        output.WriteLine($"before: {string.Join(", ", before)}; after: {string.Join(", ", after)}");
        output.WriteLine($"windows that miss them: {string.Join(", ", missed)}");
        Assert.True(before.Count + after.Count <= CropCatalog.Shipped.Crops.Count / 20);
        Assert.Empty(missed);
    }

    private static double Held(Case[] cases) => cases.Count(one => one.Side == 0) / (double)cases.Length;

    private static TemperatureBand BandOf(Crop crop) => crop.Guide!.GrowerBand ?? crop.Guide.HandbookBand!.Value;

    private static Case Ask(Crop crop, double celsius, double days)
    {
        var half = CropForecast.AtSteady(new(crop, Seeds), Temperature.FromCelsius(celsius)).Half;
        return new(crop.Id.Text, celsius, days, half.Low?.TotalDays, half.High?.TotalDays);
    }

    private static IEnumerable<EmergenceCell> Rising(IReadOnlyList<EmergenceCell> cells)
    {
        var fastest = cells.Where(cell => cell.HasDays).OrderBy(cell => cell.Days).ThenBy(cell => cell.Temperature).First();
        return cells.Where(cell => cell.HasDays && cell.Temperature.Celsius >= 10 && cell.Temperature <= fastest.Temperature);
    }

    private static IEnumerable<Case> Cells(Crop crop)
    {
        var cells = EmergenceTable.Rows[CatalogReader.TableOf(crop.Id)];
        foreach (var left in Rising(cells))
        {
            EmergenceCell[] rest = [.. cells.Where(cell => cell.Temperature != left.Temperature)];
            if (Rising(rest).Count() < 3)
            {
                continue;
            }

            var fit = EmergenceTableFit.Fit(rest, null);
            var cardinals = fit.Cardinals.OptimumLow >= left.Temperature
                ? fit.Cardinals
                : new(fit.Cardinals.Base, left.Temperature, left.Temperature, left.Temperature + TemperatureDifference.FromKelvins(10),
                    fit.Cardinals.FootKelvins);
            var beyond = UsualDays.LogBeyond(crop.Guide!.TypicalDays!.Value, BandOf(crop), cardinals, fit.HalfWarmHours);
            var profile = crop.Profile with
            {
                Cardinals = cardinals,
                HalfWarmHours = UsualDays.Joined(fit.HalfWarmHours, beyond),
                HalfDeviation = UsualDays.Deviation(beyond, fit.LogDeviation, false),
            };
            yield return Ask(crop with { Profile = profile }, left.Temperature.Celsius, left.Days!.Value);
        }
    }

    private static IEnumerable<Case> ThermalTimes()
    {
        foreach (var row in CsvTable.Parse(File.ReadAllText(SourceTree.Path("tests", "cases", "thermal-times", "to-emergence.csv"))).Rows)
        {
            foreach (var celsius in new double[] { 15, 20, 25 }.Where(celsius => celsius >= row.Number("base_c") + 3))
            {
                var days = row.Number("degree_days") / (celsius - row.Number("base_c"));
                yield return Ask(CropCatalog.Shipped.Require(row.Text("crop")), celsius, days);
            }
        }
    }

    private static IEnumerable<Case> UsualDaysOfOthers()
    {
        var fits = CatalogReader.ShippedFits();
        foreach (var crop in CropCatalog.Shipped.Crops.Where(crop => crop.Profile.Origin is ProfileOrigin.Fitted or ProfileOrigin.Borrowed))
        {
            var own = CatalogReader.TableOf(crop.Id);
            var others = Measured.Where(other => CatalogReader.TableOf(other.Id) != own)
                .Average(other => Beyond(other, fits[CatalogReader.TableOf(other.Id)]));
            var fit = fits[own];
            var profile = crop.Profile with
            {
                HalfWarmHours = UsualDays.Joined(fit.HalfWarmHours, others),
                HalfDeviation = UsualDays.Deviation(others, fit.LogDeviation, crop.Profile.Origin == ProfileOrigin.Borrowed),
            };
            var usual = UsualDays.Middle(crop.Guide!.TypicalDays!.Value);
            yield return Ask(crop with { Profile = profile }, UsualDays.HoldAt(BandOf(crop)).Celsius, usual);
        }
    }

    private static double Beyond(Crop crop, TableFit fit) =>
        UsualDays.LogBeyond(crop.Guide!.TypicalDays!.Value, BandOf(crop), fit.Cardinals, fit.HalfWarmHours);

    private static IEnumerable<Case> AsIfDerived(Crop crop)
    {
        var profile = DerivedProfile.Of(CatalogReader.RowOf(crop.Id));
        return EmergenceTable.Rows[CatalogReader.TableOf(crop.Id)]
            .Where(cell => cell.HasDays && cell.Temperature.Celsius is >= 15 and <= 25)
            .Select(cell => Ask(crop with { Profile = profile }, cell.Temperature.Celsius, cell.Days!.Value));
    }
}
