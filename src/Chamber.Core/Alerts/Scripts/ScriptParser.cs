using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts.Scripts;

/// <summary>Reads a script line by line. Lines with a time go to <see cref="ScriptParser"/>'s other half.</summary>
internal sealed partial class ScriptParser(string name, WatchLimits limits, Func<CropId, Crop?> catalog)
{
    private const string StartForm = "start 2026-03-02";
    private const string SpotForm = "spot shelf is a cupboard, dark";
    private const string ProbeForm = "probe soil measures media on shelf, silent after 2 h";
    private const string SowForm = "sow T1: 12 tomato in covered mix on shelf";

    private readonly Dictionary<string, Crop> crops = [];
    private readonly Dictionary<string, Spot> spots = [];
    private readonly Dictionary<string, ScriptProbe> probes = [];
    private readonly Dictionary<string, ScriptBatch> batches = [];
    private readonly List<ProbeCalibration> calibrations = [];
    private readonly List<SurveyMean> surveys = [];
    private readonly List<Outage> outages = [];
    private readonly List<ScriptStep> steps = [];
    private ShownCondition? shown;
    private ScriptPart? part;
    private DateTimeZone zone = DateTimeZone.Utc;
    private LocalDate firstDay = new(2026, 3, 2);
    private bool fahrenheit;
    private WatchLimits limits = limits;
    private ScriptLine line = new(name, 0, "");

    public WatchScript Parse(string text)
    {
        var number = 0;
        foreach (var raw in text.Split('\n'))
        {
            number++;
            var content = raw.Split('#')[0].Trim();
            if (content.Length > 0)
            {
                ParseLine(number, content);
            }
        }

        return new(name, Facts(), steps, shown);
    }

    private void ParseLine(int number, string content)
    {
        line = new(name, number, content.Replace(": ", " : ", StringComparison.Ordinal));
        if (char.IsAsciiDigit(content[0]) || content.StartsWith("day ", StringComparison.Ordinal))
        {
            ParseTimed();
        }
        else
        {
            ParseDeclaration();
        }
    }

    private void ParseDeclaration()
    {
        const string known = "start, zone, temperatures, limit, crop, spot, probe, sow, shows, part, or a time such as 08:00";
        switch (line.Word("statement", known))
        {
            case "start":
                ParseStart();
                break;
            case "zone":
                var id = line.Word("zone", "zone Europe/Berlin");
                zone = DateTimeZoneProviders.Tzdb.GetZoneOrNull(id) ?? throw line.Wrong($"\"{id}\" is no time zone; use a name such as Europe/Berlin or UTC");
                break;
            case "temperatures":
                line.Need("in", "temperatures in F");
                fahrenheit = line.Take("F") || (line.Take("C") ? false : throw line.Wrong("temperatures are in C or in F; write: temperatures in F"));
                break;
            case "limit":
                limits = ScriptLimits.Parse(line, limits);
                break;
            case "crop":
                var crop = ScriptCrop.Parse(line, Degrees);
                crops[crop.Id.Text] = crop;
                break;
            case "spot":
                ParseSpot();
                break;
            case "probe":
                ParseProbe();
                break;
            case "shows":
                ParseShows();
                break;
            case "part":
                ParsePart();
                break;
            case "sow":
                Sow(firstDay.AtStartOfDayInZone(zone).ToInstant());
                break;
            case var other:
                throw line.Wrong($"\"{other}\" begins no line; begin with {known}");
        }

        line.End("one statement a line");
    }

    private void ParseStart()
    {
        if (steps.Count > 0 || batches.Count > 0)
        {
            throw line.Wrong("start comes before anything that happens; move it to the top");
        }

        var day = line.Word("day", StartForm);
        var parsed = NodaTime.Text.LocalDatePattern.Iso.Parse(day);
        firstDay = parsed.Success ? parsed.Value : throw line.Wrong($"\"{day}\" is no date; write: {StartForm}");
    }

    private void ParseSpot()
    {
        var id = new SpotId(Identifier("spot", SpotForm));
        line.Need("is a", SpotForm);
        var words = new List<string> { line.Word("kind of spot", SpotForm) };
        while (!line.IsAtEnd && !line.Take(","))
        {
            words.Add(line.Word("kind of spot", SpotForm));
        }

        var kind = Choose<SpotKind>(string.Concat(words), "kind of spot");
        var light = line.IsAtEnd ? LightLevel.Dim : Choose<LightLevel>(line.Word("light", SpotForm), "light");
        spots[id.Text] = new(id, kind, light, 4);
    }

    private void ParseProbe()
    {
        var id = new ProbeId(Identifier("probe", ProbeForm));
        line.Need("measures", ProbeForm);
        var measurand = line.Take("media") ? Measurand.Media
            : line.Take("air") ? Measurand.Air
            : line.Take("the outside") || line.Take("outside") ? Measurand.OutsideSurface
            : throw line.Wrong($"a probe measures media, air or the outside; write: {ProbeForm}");
        var spot = line.Take("on") ? Spot() : null;
        var gap = Climate.Probe.DefaultMaxGap;
        var handRead = false;
        while (line.Take(","))
        {
            handRead |= line.Take("read by hand");
            if (line.Take("silent after"))
            {
                gap = line.Duration(ProbeForm);
            }
        }

        var start = firstDay.AtStartOfDayInZone(zone).ToInstant();
        probes[id.Text] = new(new(id, measurand, gap), handRead);
        if (spot is not null)
        {
            probes[id.Text].Moves.Add((start, spot.Id));
        }
    }

    private void Sow(Instant at)
    {
        var id = new BatchId(Identifier("batch", SowForm));
        line.Need(":", SowForm);
        var seeds = line.Quantity("number of seeds", SowForm);
        var crop = Crop(line.Word("crop", SowForm));
        line.Need("in", SowForm);
        var method = Choose<SowingMethod>(line.Word("method", SowForm) + line.Word("method", SowForm), "method");
        line.Need("on", SowForm);
        batches[id.Text] = new(id, crop, method, (int)seeds, at) { Moves = { (at, Spot().Id) }, HasCover = !line.Take("without cover") };
    }

    private Crop Crop(string word)
    {
        if (crops.TryGetValue(word, out var crop))
        {
            return crop;
        }

        return Core.Identifier.IsValid(word) && catalog(new(word)) is { } found
            ? found
            : throw line.Wrong($"the crop \"{word}\" is not known; describe it above: {ScriptCrop.Form}");
    }

    private string Identifier(string what, string form)
    {
        var word = line.Word($"name of the {what}", form);
        return Core.Identifier.IsValid(word) ? word : throw line.Wrong($"\"{word}\" cannot name a {what}; use letters, digits, '-', '_' or '.'");
    }

    private Spot Spot()
    {
        var word = line.Word("spot", "... on shelf");
        return spots.GetValueOrDefault(word) ?? throw line.Wrong($"the spot \"{word}\" is not known; declare it above: {SpotForm}");
    }

    private T Choose<T>(string words, string what)
        where T : struct, Enum =>
        Enum.TryParse<T>(words.Replace("-", "", StringComparison.Ordinal), ignoreCase: true, out var value) && !char.IsAsciiDigit(words[0])
            ? value
            : throw line.Wrong($"\"{words}\" is no {what}; use one of {string.Join(", ", Enum.GetNames<T>().Select(Spaced))}");

    internal static string Spaced(string name) =>
        string.Concat(name.Select((letter, index) => char.IsUpper(letter) ? (index > 0 ? " " : "") + char.ToLowerInvariant(letter) : letter.ToString()));

    private double Degrees(double value) => fahrenheit ? (value - 32) * 5 / 9 : value;

    private HomeFacts Facts() => new()
    {
        Zone = zone,
        Limits = limits,
        Probes = [.. probes.Values.Select(probe => probe.Probe)],
        HandRead = [.. probes.Values.Where(probe => probe.HandRead).Select(probe => probe.Probe.Id)],
        Spots = [.. spots.Values],
        Stations = [.. probes.Values.SelectMany(probe => probe.Stations())],
        Batches = [.. batches.Values.Select(batch => batch.ToWatched())],
        Calibrations = calibrations,
        Surveys = surveys,
        Outages = outages,
    };
}
