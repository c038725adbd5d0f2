using Chamber.Core.Climate;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts.Scripts;

/// <summary>Lines without a time: what there is from the start.</summary>
internal sealed class DeclarationLines(ScriptDraft draft)
{
    public const string SpotForm = "spot shelf is a cupboard, dark";
    public const string ProbeForm = "probe soil measures media on shelf, silent after 2 h";
    private const string StartForm = "start 2026-03-02";
    private const string PartForm = "part near miss   (or: hold, opens, stays, closes)";
    private const string Known = "start, zone, temperatures, limit, crop, spot, probe, sow, shows, part, or a time such as 08:00";

    private readonly SowingLines sowing = new(draft);

    public void Parse(ScriptLine line)
    {
        var statement = Statement(line.Word("statement", Known))
            ?? throw line.Wrong($"\"{line.LastWord}\" begins no line; begin with {Known}");
        statement(line);
        line.End("one statement a line");
    }

    private Action<ScriptLine>? Statement(string word) => word switch
    {
        "start" => Start,
        "zone" => Zone,
        "temperatures" => Temperatures,
        "limit" => line => draft.Limits = LimitText.Parse(line, draft.Limits, draft.Conditions.Limits),
        "crop" => Crop,
        "spot" => Spot,
        "probe" => Probe,
        "shows" => Shows,
        "part" => Part,
        "sow" => line => sowing.Sow(line, draft.Clock.Start),
        _ => null,
    };

    private void Start(ScriptLine line)
    {
        if (draft.Steps.Count > 0 || draft.Batches.Count > 0)
        {
            throw line.Wrong("start comes before anything that happens; move it to the top");
        }

        var day = line.Word("day", StartForm);
        var parsed = NodaTime.Text.LocalDatePattern.Iso.Parse(day);
        draft.Clock.FirstDay = parsed.Success ? parsed.Value : throw line.Wrong($"\"{day}\" is no date; write: {StartForm}");
        line.Within(Bounds.Year, draft.Clock.FirstDay.Year);
    }

    private void Zone(ScriptLine line)
    {
        var id = line.Word("zone", "zone Europe/Berlin");
        draft.Clock.Zone = DateTimeZoneProviders.Tzdb.GetZoneOrNull(id)
            ?? throw line.Wrong($"\"{id}\" is no time zone; use a name such as Europe/Berlin or UTC");
    }

    private void Temperatures(ScriptLine line)
    {
        line.Need("in", "temperatures in F");
        draft.IsFahrenheit = line.Take("F")
            || (line.Take("C") ? false : throw line.Wrong("temperatures are in C or in F; write: temperatures in F"));
    }

    private void Crop(ScriptLine line)
    {
        var crop = ScriptCrop.Parse(line, draft);
        draft.Crops[crop.Id.Text] = crop;
    }

    private void Spot(ScriptLine line)
    {
        var id = new SpotId(line.Identifier("spot", SpotForm));
        line.Need("is a", SpotForm);
        var words = new List<string> { line.Word("kind of spot", SpotForm) };
        while (!line.IsAtEnd && !line.Take(","))
        {
            words.Add(line.Word("kind of spot", SpotForm));
        }

        var kind = line.Choose<SpotKind>(string.Concat(words), "kind of spot");
        var light = line.IsAtEnd ? LightLevel.Dim : line.Choose<LightLevel>(line.Word("light", SpotForm), "light");
        draft.Spots[id.Text] = new(id, kind, light, 4);
    }

    private void Probe(ScriptLine line)
    {
        var id = new ProbeId(line.Identifier("probe", ProbeForm));
        line.Need("measures", ProbeForm);
        var measurand = line.Take("media") ? Measurand.Media
            : line.Take("air") ? Measurand.Air
            : line.Take("the outside") || line.Take("outside") ? Measurand.OutsideSurface
            : throw line.Wrong($"a probe measures media, air or the outside; write: {ProbeForm}");
        var spot = line.Take("on") ? draft.Spot(line) : null;
        var gap = Climate.Probe.DefaultMaxGap;
        var isHandRead = false;
        while (line.Take(","))
        {
            isHandRead |= line.Take("read by hand");
            if (line.Take("silent after"))
            {
                gap = line.Duration(ProbeForm);
            }
        }

        var probe = draft.Probes[id.Text] = new(new(id, measurand, gap), isHandRead);
        if (spot is not null)
        {
            probe.Moves.Add((draft.Clock.Start, spot.Id));
        }
    }

    private void Shows(ScriptLine line)
    {
        if (draft.Shown is not null)
        {
            throw line.Wrong("a script shows one condition; write another script for the other");
        }

        var kind = draft.Kind(line);
        draft.Shown = new(line.Number, kind, draft.Conditions.Of(kind).IsByFault ? NeededFault(line) : null);
    }

    private static ProbeFault NeededFault(ScriptLine line)
    {
        line.Need("by", "shows too hot   (or: shows faulty probe by spike)");
        return ScriptDraft.Fault(line);
    }

    private void Part(ScriptLine line)
    {
        if (draft.Shown is null)
        {
            throw line.Wrong("parts belong to a script that shows a condition; write above: shows too hot");
        }

        draft.Part = Enum.GetValues<ScriptPart>().Where(known => line.Take(ShownCondition.Spell(known))).Select(known => (ScriptPart?)known)
            .FirstOrDefault()
            ?? throw line.Wrong($"no part has this name; write: {PartForm}");
    }
}
