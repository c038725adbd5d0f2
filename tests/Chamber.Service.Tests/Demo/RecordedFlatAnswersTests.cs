using System.Globalization;
using System.Text.Json;
using Chamber.Service.Tests.Commands;
using Chamber.Testing;

namespace Chamber.Service.Tests.Demo;

/// <summary>From the first message of the recorded home to the answers at its end, through everything that is between.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class RecordedFlatAnswersTests
{
    private static readonly (string File, string Line)[] Questions =
    [
        ("spots-basil.json", "spots --crop basil"),
        ("spots.json", "spots"),
        ("warmth-tomato.json", "warmth --batch T1"),
        ("warmth-lettuce.json", "warmth --batch L1"),
        ("forecast-pepper.json", "forecast --crop pepper-sweet --spot thermostat-mat --seeds 12"),
        ("batches.json", "batches --all"),
        ("alerts.json", "alerts --all"),
        ("probes.json", "probes"),
    ];

    [Fact]
    public async Task Replayed_through_the_broker_the_recorded_home_gives_the_kept_answers()
    {
        await using var flat = await ReplayedFlat.Play();
        foreach (var (file, line) in Questions)
        {
            AnswerFile.Compare(Path.Combine(RecordedFlat.Folder, "answers", file), await flat.Answer(line));
        }
    }

    /// <summary>
    /// The lettuce is on one spot with one probe, so its warm-hours are the integral of E(T) over what that probe published,
    /// which SciPy's trapezoid rule (Virtanen et al. 2020) on a grid of seconds gives without any code of ours.
    /// </summary>
    [Fact]
    public async Task Warm_hours_on_file_are_those_SciPy_adds_up_from_the_recorded_messages()
    {
        var lettuce = JsonDocument.Parse((await InProcess.Run("crops", "lettuce", "--json")).Out).RootElement;
        var ceilings = lettuce.GetProperty("ceilings");
        var given = JsonDocument.Parse(File.ReadAllText(Path.Combine(RecordedFlat.Folder, "answers", "warmth-lettuce.json"))).RootElement;

        var added = double.Parse(await Oracle.SciPy($$"""
            import gzip, datetime, numpy
            from scipy.integrate import trapezoid
            from scipy.stats import norm
            at, celsius = [], []
            for line in gzip.open("{{RecordedFlat.Folder}}/messages.tsv.gz", "rt"):
                time, topic, payload = line.rstrip("\n").split("\t")
                if topic == "flat/plain-mat/celsius":
                    at.append(datetime.datetime.fromisoformat(time).timestamp()); celsius.append(float(payload))
            sown = datetime.datetime.fromisoformat("2026-02-11T07:48:00+00:00").timestamp()
            grid = numpy.arange(sown, at[-1], 1.0)
            t = numpy.interp(grid, at, celsius)
            low, to1, foot = {{lettuce.GetProperty("base")}}, {{lettuce.GetProperty("optimumLow")}}, {{lettuce.GetProperty("footKelvins")}}
            middle, spread = {{ceilings.GetProperty("median")}}, {{ceilings.GetProperty("spreadKelvins")}}
            fall = {{ceilings.GetProperty("fallKelvins")}}
            over = numpy.minimum(t, to1) - low
            e = numpy.where(over >= foot, over, numpy.maximum(over + foot, 0) ** 2 / (4 * foot))
            left = middle + spread * norm.isf(norm.sf(t, middle, spread) / 2)
            e = e * numpy.where(t < {{lettuce.GetProperty("ceiling")}}, numpy.clip((left - t) / fall, 0, 1), 0)
            print(trapezoid(e, grid) / 3600)
            """), CultureInfo.InvariantCulture);

        Assert.Equal(added, given.GetProperty("warmHours").GetDouble(), 0.002 * added);
    }
}
