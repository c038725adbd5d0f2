using System.Globalization;
using System.Text;
using Chamber.Testing;

namespace Chamber.Service.Tests.Commands.Seed;

/// <summary>A crop from somebody's own trials, on the command line. Trials are made up from the numbers that the fit has to find
/// again.</summary>
public sealed class FitVerbTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly HomeRig home = new();

    public void Dispose()
    {
        home.Dispose();
        folder.Dispose();
    }

    [Fact]
    public async Task A_fit_answers_in_the_words_of_crops_with_intervals()
    {
        var answer = await home.Json("fit", "--trials", folder.Write("own.csv", Trials(12, 16, 20, 24, 28, 32, 34, 36)));

        foreach (var name in new[] { "base", "optimumLow", "optimumHigh", "ceiling", "halfWarmHours", "spread", "germinableShare" })
        {
            var number = answer.GetProperty(name);
            Assert.True(number.GetProperty("low").GetDouble() <= number.GetProperty("mid").GetDouble(), name);
            Assert.True(number.GetProperty("mid").GetDouble() <= number.GetProperty("high").GetDouble(), name);
        }

        Assert.Equal(0, answer.GetProperty("cannotKnow").GetArrayLength());
        Assert.InRange(answer.GetProperty("base").GetProperty("mid").GetDouble(), 7.5, 8.5);
        Assert.InRange(answer.GetProperty("germinableShare").GetProperty("mid").GetDouble(), 0.87, 0.93);
    }

    [Fact]
    public async Task A_saved_fit_is_a_crop_that_forecasts_use()
    {
        var saved = await home.Json("fit", "--trials", folder.Write("own.csv", Trials(12, 16, 20, 24, 28, 32, 34, 36)),
            "--save", "own-tomato");
        Assert.Equal("own-tomato", saved.GetProperty("saved").GetString());

        var crop = await home.Json("crops", "own-tomato");
        Assert.Equal("own", crop.GetProperty("origin").GetString());
        Assert.InRange(crop.GetProperty("halfWarmHours").GetDouble(), 2250, 2550);

        // 2400 °C·h at 22 - 8 = 14 °C are 171 h, 7.1 days; nine in ten of these seeds can come up.
        var forecast = await home.Json("forecast", "--crop", "own-tomato", "--at", "22C", "--seeds", "100");
        Assert.InRange(forecast.GetProperty("half").GetProperty("mid").GetDouble(), 6.6, 7.7);
        Assert.InRange(forecast.GetProperty("stand").GetProperty("mid").GetDouble(), 0.84, 0.95);
    }

    // Half days of 9, 4.2, 4, 5.5, 4 and 9 at 10 to 35 °C, up and down as no cardinal temperatures have it.
    [Fact]
    public async Task Where_a_smooth_curve_foretells_better_a_saved_crop_goes_by_it()
    {
        (int Celsius, double Days)[] halves = [(10, 9), (15, 5.5), (20, 4.2), (25, 4), (30, 4.8), (35, 8)];
        var csv = new StringBuilder("temperature,from,to,count\n");
        foreach (var (celsius, days) in halves)
        {
            csv.Append(CultureInfo.InvariantCulture, $"{celsius},{days * 0.8},{days},10\n{celsius},{days},{days * 1.2},10\n");
        }

        var answer = await home.Json("fit", "--trials", folder.Write("bent.csv", csv.ToString()), "--save", "bent");
        var choice = answer.GetProperty("choice");
        Assert.True(choice.GetProperty("inside").GetProperty("smoothIsBetter").GetBoolean());
        Assert.Contains(answer.GetProperty("words").EnumerateArray(), words =>
            words.GetString()!.Contains("Forecasts go by the smooth curve", StringComparison.Ordinal));

        // As the curve has it at 25 °C, from the answer itself.
        var at25 = choice.GetProperty("halfDays").EnumerateArray().Single(each => Math.Abs(each.GetProperty("at").GetDouble() - 25) < 0.01)
            .GetProperty("days").GetDouble();
        var forecast = await home.Json("forecast", "--crop", "bent", "--at", "25C", "--seeds", "100");
        Assert.Equal(at25, forecast.GetProperty("half").GetProperty("mid").GetDouble(), 0.3);
        var shown = await home.Run("crops", "bent");
        Assert.Contains("from 10 °C to 35 °C days go by a smooth curve", shown.Out.Replace("\n", " ", StringComparison.Ordinal),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_the_temperatures_cannot_tell_is_said()
    {
        var path = folder.Write("cool.csv", Trials(12, 15, 18, 21));
        var answer = await home.Json("fit", "--trials", path);

        Assert.Equal(["optimumLow", "optimumHigh", "ceiling"],
            answer.GetProperty("cannotKnow").EnumerateArray().Select(name => name.GetString()));
        Assert.Equal(System.Text.Json.JsonValueKind.Null, answer.GetProperty("ceiling").GetProperty("mid").ValueKind);

        var words = await InProcess.Run("fit", "--trials", path, "--data", folder.Path);
        Assert.Contains("The ceiling cannot be known from these temperatures", words.Out, StringComparison.Ordinal);
    }

    // Drawn with ln of the spread rising by 0.06 a kelvin from 0.12 at 12 °C, to 0.35 at 30.
    [Fact]
    public async Task A_spread_that_changes_is_saved_and_forecasts_follow_it()
    {
        var said = await home.Run("fit", "--trials",
            folder.Write("wide.csv", Trials(celsius => 0.12 * Math.Exp(0.06 * (celsius - 12)), 12, 16, 20, 24, 28, 30)), "--save", "wide");
        Assert.Contains("and so are forecasts from it", string.Join(' ', said.Out.Split((char[]?)null,
            StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
        Assert.True(await Spreads(14) < 0.7 * await Spreads(29));

        async Task<double> Spreads(int celsius)
        {
            var forecast = await home.Json("forecast", "--crop", "wide", "--at", $"{celsius}C", "--seeds", "60");
            return Math.Log(Days(forecast, "most") / Days(forecast, "half"));
        }

        static double Days(System.Text.Json.JsonElement forecast, string milestone) =>
            forecast.GetProperty(milestone).GetProperty("mid").GetDouble();
    }

    [Fact]
    public async Task A_saved_fit_widens_where_it_was_never_tried()
    {
        await home.Json("fit", "--trials", folder.Write("cool.csv", Trials(12, 15, 18, 21)), "--save", "cool");
        var (inside, warm, cold) = (await Half("20C"), await Half("28C"), await Half("9C"));
        Assert.True(inside.High / inside.Low < 3, $"{inside}");

        // In truth 2400 °C·h at 25 - 8 °C: 5.9 days at 28 °C, on the plateau that no trial has shown.
        Assert.InRange(5.9, warm.Low, warm.High);
        Assert.True(warm.High / warm.Low > 20, $"{warm}");
        Assert.True(cold.High / cold.Low > 10, $"{cold}");
        var words = (await home.Run("forecast", "--crop", "cool", "--at", "28C")).Out;
        Assert.Contains("tried from 12 °C to 21 °C", string.Join(' ', words.Split(['\n', ' '], StringSplitOptions.RemoveEmptyEntries)),
            StringComparison.Ordinal);

        async Task<(double Low, double High)> Half(string at)
        {
            var half = (await home.Json("forecast", "--crop", "cool", "--at", at)).GetProperty("half");
            return (half.GetProperty("low").GetDouble(), half.GetProperty("high").GetDouble());
        }
    }

    [Fact]
    public async Task Shares_that_differ_by_temperature_are_warned_of()
    {
        var path = folder.Write("two.csv",
            "temperature,from,to,count\n12,20,24,9\n12,24,28,12\n12,28,34,9\n12,60,,30\n22,5,6,14\n22,6,7,22\n22,7,9,20\n22,30,,4\n");
        var answer = await home.Json("fit", "--trials", path);

        var shares = answer.GetProperty("sharesDiffer").GetProperty("shares").EnumerateArray()
            .Select(each => each.GetProperty("share").GetDouble()).ToArray();
        Assert.Equal([0.5, 0.933], shares, (kept, given) => Math.Abs(kept - given) < 0.01);

        var words = await InProcess.Run("fit", "--trials", path, "--data", folder.Path);
        Assert.Contains("The share that comes up differs by temperature: 50 % at 12 °C, 93 % at 22 °C",
            string.Join(' ', words.Out.Split(['\n', ' '], StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", "is empty. Its first line names the columns: temperature,from,to,count")]
    [InlineData("temperature,from,count\n20,1,3\n",
        "line 1: there is no column \"to\". Its first line names the columns: temperature,from,to,count")]
    [InlineData("temperature,from,to,count\n", "has no rows under its header.")]
    [InlineData("temperature,from,to,count\n20,1,2,3\nwarm,1,2,3\n",
        "line 3: \"warm\" is not a temperature: write a number and its unit, such as 21.5C or 71F.")]
    [InlineData("temperature,from,to,count\n70,1,2,3\n", "line 2: 70 is outside -10 to 60 °C for the temperature of a trial: no trial of "
        + "seed is that cold or hot; Fahrenheit is written with its unit, as 68F.")]
    [InlineData("temperature,from,to,count\n20,,2,3\n", "line 2: from \"\" is not a number of days since the sowing, 0 to 3650.")]
    [InlineData("temperature,from,to,count\n20,3,3,1\n",
        "line 2: to 3 is not later than from 3: write the last look without the seedlings and the first with them.")]
    [InlineData("temperature,from,to,count\n20,3,4,1.5\n", "line 2: count \"1.5\" is not a whole number of 0 or more.")]
    [InlineData("temperature,from,to,count\n20,3,4\n", "line 2: count \"\" is not a whole number of 0 or more.")]
    [InlineData("temperature,from,to,count\n20,30,,25\n", "No seed came up in any trial, so there is nothing to fit.")]
    public async Task A_file_that_cannot_be_fitted_is_refused_with_its_line(string text, string fix)
    {
        var path = folder.Write("bad.csv", text);
        var said = await home.Refusal("fit", "--trials", path, "--save", "bad");
        Assert.StartsWith($"chamber: {path}", said, StringComparison.Ordinal);
        Assert.EndsWith(fix, said, StringComparison.Ordinal);
        Assert.Contains("is not in the crop catalog", await home.Refusal("crops", "bad"), StringComparison.Ordinal);
    }

    /// <summary>Counts that a profile of base 8, plateau 25 to 30, ceiling 38 °C, 2400 °C·h, spread 0.25 and nine in ten expects of 200
    /// seeds, looked at every half day.</summary>
    private static string Trials(params double[] celsius) => Trials(_ => 0.25, celsius);

    private static string Trials(Func<double, double> spread, params double[] celsius)
    {
        var text = new StringBuilder("temperature,from,to,count\n");
        foreach (var temperature in celsius)
        {
            var warmth = temperature < 25 ? temperature - 8 : temperature <= 30 ? 17 : 17 * (38 - temperature) / 8;
            var up = 0;
            for (var look = 1; look <= 80; look++)
            {
                var share = MathNet.Numerics.Distributions.Normal.CDF(
                    0, 1, Math.Log(look * 0.5 * 24 * warmth / 2400) / spread(temperature));
                var now = (int)Math.Round(180 * share);
                if (now > up)
                {
                    text.Append(System.Globalization.CultureInfo.InvariantCulture,
                        $"{temperature},{(look - 1) * 0.5},{look * 0.5},{now - up}\n");
                }

                up = now;
            }

            text.Append(System.Globalization.CultureInfo.InvariantCulture, $"{temperature},40,,{200 - up}\n");
        }

        return text.ToString();
    }
}
