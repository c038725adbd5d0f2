using System.Globalization;
using System.Text.Json;
using Chamber.Testing;
using MathNet.Numerics.Distributions;

namespace Chamber.Service.Tests.Commands;

/// <summary>
/// The trace that other programs hand in: each case is checked against an integral done by hand, with the cardinal temperatures
/// that <c>crops tomato</c> gives (base b with its foot w, plateau from p to q, ceiling c).
/// </summary>
public sealed class TraceFormTests : IDisposable
{
    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    public static TheoryData<string, string, Func<Tomato, double>> Integrals => new()
    {
        { "a steady temperature", "0 20, 2 20", t => 2 * t.At(20) },
        { "a line across the base counts from where it crosses", "0 0, 1 20", t => (t.Area(20) - t.Area(0)) / 20 },
        { "down and up again across the base counts both sides", "0 20, 1 0, 2 20", t => 2 * (t.Area(20) - t.Area(0)) / 20 },
        { "below zero brings nothing", "0 -20, 2 -10", _ => 0 },
        { "the plateau brings its width and no more", "0 P, 2 Q", t => 2 * t.At(t.Low) },
        { "above the ceiling brings nothing", "0 C, 1 C+5", _ => 0 },
        { "from the plateau's end to the ceiling it falls to nothing", "0 Q, 1 C", t => t.HeatArea() / (t.Ceiling - t.High) },
        { "a rise through everything", "0 B, 1 C+5",
            t => (t.Area(t.Low) - t.Area(t.Base) + (t.High - t.Low) * t.At(t.Low) + t.HeatArea()) / (
            t.Ceiling + 5 - t.Base) },
        { "one reading is no stretch of time", "0 20", _ => 0 },
        { "a gap of more than two hours brings nothing", "0 20, 3 20, 4 20", t => t.At(20) },
        { "order and repetition are nothing", "2 20, 0 20, 1 21.5, 1 21.5, 2 20", t => 2 * (t.Area(21.5) - t.Area(20)) / 1.5 },
    };

    [Theory]
    [MemberData(nameof(Integrals), DisableDiscoveryEnumeration = true)]
    public async Task Warm_hours_are_the_integral_done_by_hand(string what, string points, Func<Tomato, double> byHand)
    {
        var tomato = await Crop();
        var trace = folder.Write("trace.csv", "at,temperature\n" + string.Concat(points.Split(", ").Select(point => Line(point, tomato))));

        var answer = await Json("warmth", "--crop", "tomato", "--trace", trace);

        Assert.True(Math.Abs(byHand(tomato) - answer.GetProperty("warmHours").GetDouble()) < 1e-6, what);
    }

    [Theory]
    [InlineData("\uFEFFat,temperature\r\n2026-03-01T00:00:00Z,20\r\n2026-03-01T02:00:00+01:00,20\r\n", 1)]
    [InlineData("temperature,at\n20,2026-03-01T00:00:00-05:30\n20,2026-03-01T07:30:00Z\n\n", 2)]
    [InlineData("at,temperature,humidity\n1999-03-01T00:00:00Z,20,50\n1999-03-01T01:00:00Z,20,\n", 1)]
    [InlineData("at,temperature\n2101-03-01T00:00:00Z,20\n2101-03-01T01:00:00Z,nan\n2101-03-01T02:00:00Z,20\n", 2)]
    public async Task Line_ends_marks_offsets_and_further_columns_change_nothing(string text, double hours)
    {
        var answer = await Json("warmth", "--crop", "tomato", "--trace", folder.Write("trace.csv", text));

        Assert.Equal(hours, answer.GetProperty("measuredHours").GetDouble(), 9);
    }

    [Theory]
    [InlineData("", "is empty.")]
    [InlineData("at,temperature\n", "holds no temperature that can be used.")]
    [InlineData("time,temp\n2026-03-01T00:00:00Z,20\n",
        "has no column \"at\" for at; it has \"time\", \"temp\". A trace has the columns at,temperature.")]
    [InlineData("at,temperature\n2026-03-01T00:00:00Z,20\n2026-03-01 01:00,20\n",
        "line 3: at \"2026-03-01 01:00\". \"2026-03-01 01:00\" is not a time by RFC 3339: write it with its offset, such as "
        + "2026-03-01T07:40:00Z.")]
    [InlineData("at,temperature\n2026-03-01T00:00:00Z,20\n2026-03-01T01:00:00Z,warm\n",
        "line 3: temperature \"warm\". That is not a number.")]
    [InlineData("at,temperature\n2026-03-01T00:00:00Z,68\n2026-03-01T01:00:00Z,72.5\n",
        "holds 68 and the like throughout, which looks like °F: a trace is in °C.")]
    public async Task A_trace_that_cannot_be_used_is_refused_in_one_line_with_its_fix(string text, string said)
    {
        var trace = folder.Write("trace.csv", text);
        foreach (var verb in (string[][])[["warmth", "--crop", "tomato"], ["forecast", "--crop", "tomato", "--seeds", "12"]])
        {
            var outcome = await InProcess.Run([.. verb, "--trace", trace, "--json", "--data", folder.Path]);

            Assert.Equal((2, string.Empty), (outcome.Code, outcome.Out));
            Assert.Equal($"chamber: {trace} {said}\n",
                outcome.Error.Replace("chamber: trace.csv ", $"chamber: {trace} ", StringComparison.Ordinal));
        }
    }

    [Fact]
    public async Task A_heat_spike_that_as_Fahrenheit_would_be_mild_is_heat()
    {
        var trace = folder.Write("trace.csv",
            "at,temperature\n2026-03-01T00:00:00Z,20\n2026-03-01T01:00:00Z,68\n2026-03-01T02:00:00Z,68\n");

        var answer = await Json("warmth", "--crop", "tomato", "--trace", trace);

        Assert.Equal(2, answer.GetProperty("measuredHours").GetDouble(), 9);
        Assert.InRange(answer.GetProperty("hoursAbove").GetDouble(), 1.5, 2);
    }

    [Fact]
    public async Task Cold_and_heat_in_either_unit_give_a_forecast_without_days()
    {
        var cold = await Json("forecast", "--crop", "tomato", "--at", "-5C", "--seeds", "12");
        var same = await Json("forecast", "--crop", "tomato", "--at", "23F", "--seeds", "12");

        Assert.Equal(JsonValueKind.Null, cold.GetProperty("half").GetProperty("mid").ValueKind);
        Assert.Equal(cold.GetRawText(), same.GetRawText());
    }

    [Theory]
    [InlineData("crops-tomato.json", "crops tomato")]
    [InlineData("forecast-tomato.json", "forecast --crop tomato --at 20C --seeds 12")]
    [InlineData("warmth-tomato.json", "warmth --crop tomato --trace day.csv")]
    [InlineData("forecast-along.json", "forecast --crop tomato --trace day.csv --seeds 12")]
    public async Task The_whole_answer_is_the_one_on_file(string file, string line)
    {
        var cases = SourceTree.Path("tests", "cases", "answers");
        var outcome = await InProcess.Run([.. line.Replace("day.csv", Path.Combine(cases, "day.csv"), StringComparison.Ordinal).Split(' '),
            "--json", "--data", folder.Path]);

        Assert.True(outcome.Code == 0, outcome.Error);
        AnswerFile.Compare(Path.Combine(cases, file), outcome.Out);
    }

    private static string Line(string point, Tomato tomato)
    {
        var parts = point.Split(' ');
        var celsius = parts[1] switch
        {
            "B" => tomato.Base,
            "P" => tomato.Low,
            "Q" => tomato.High,
            "C" => tomato.Ceiling,
            "C+5" => tomato.Ceiling + 5,
            var number => double.Parse(number, CultureInfo.InvariantCulture),
        };
        return string.Create(CultureInfo.InvariantCulture, $"2026-03-01T0{parts[0]}:00:00Z,{celsius:R}\n");
    }

    private async Task<Tomato> Crop()
    {
        var crop = await Json("crops", "tomato");
        double Of(string name) => crop.GetProperty(name).GetDouble();
        double Heat(string name) => crop.GetProperty("ceilings").GetProperty(name).GetDouble();
        return new(Of("base"), Of("optimumLow"), Of("optimumHigh"), Of("ceiling"), Of("footKelvins"))
        {
            Seeds = (Heat("median"), Heat("spreadKelvins"), Heat("fallKelvins")),
        };
    }

    private async Task<JsonElement> Json(params string[] arguments)
    {
        var outcome = await InProcess.Run([.. arguments, "--json", "--data", folder.Path]);
        Assert.True(outcome.Code == 0, outcome.Error);
        return JsonDocument.Parse(outcome.Out).RootElement;
    }

    public sealed record Tomato(double Base, double Low, double High, double Ceiling, double Foot)
    {
        /// <summary>How the seeds' ceilings lie: middle, standard deviation, and over how many kelvins each slows down.</summary>
        public (double Median, double Spread, double Fall) Seeds { get; init; }

        /// <summary>Warmth from the plateau's end to the ceiling, °C²: trapeziums 0.2 K wide, the plateau times the pace of the middle one
        /// of the seeds that are left, nothing at the ceiling.</summary>
        public double HeatArea()
        {
            var sum = 0.0;
            for (var i = 0; High + i * 0.2 < Ceiling - 1e-9; i++)
            {
                var (left, right) = (High + i * 0.2, Math.Min(High + (i + 1) * 0.2, Ceiling));
                sum += (right - left) * (Pace(left) + (right >= Ceiling - 1e-9 ? 0 : Pace(right))) / 2;
            }

            return sum * At(Low);
        }

        private double Pace(double celsius)
        {
            var left = 1 - Normal.CDF(Seeds.Median, Seeds.Spread, celsius);
            return Math.Clamp((Normal.InvCDF(Seeds.Median, Seeds.Spread, 1 - left / 2) - celsius) / Seeds.Fall, 0, 1);
        }

        /// <summary>Warmth at a temperature up to the plateau: (T - b + w)²/4w within the foot, T - b above it.</summary>
        public double At(double celsius) => celsius - Base >= Foot ? celsius - Base
            : Math.Pow(Math.Max(0, celsius - Base + Foot), 2) / (4 * Foot);

        /// <summary>Its integral up to a temperature: the cube over 12w within the foot, and half squares above it.</summary>
        public double Area(double celsius)
        {
            var bent = Math.Pow(Math.Clamp(celsius - Base + Foot, 0, 2 * Foot), 3) / (12 * Foot);
            return celsius - Base > Foot ? bent + (Math.Pow(celsius - Base, 2) - Foot * Foot) / 2 : bent;
        }
    }
}
