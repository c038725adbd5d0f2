using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts.Scripts;

/// <summary>A script while it is read: what its lines have said so far, and the names that they may use.</summary>
internal sealed class ScriptDraft(WatchLimits limits, ConditionSet conditions, Func<CropId, Crop?> catalog)
{
    public Dictionary<string, Crop> Crops { get; } = [];

    public Dictionary<string, Spot> Spots { get; } = [];

    public Dictionary<string, ScriptProbe> Probes { get; } = [];

    public Dictionary<string, ScriptBatch> Batches { get; } = [];

    public List<ProbeCalibration> Calibrations { get; } = [];

    public List<SurveyMean> Surveys { get; } = [];

    public List<Outage> Outages { get; } = [];

    public List<ScriptStep> Steps { get; } = [];

    public ScriptClock Clock { get; } = new();

    public WatchLimits Limits { get; set; } = limits;

    public ConditionSet Conditions => conditions;

    public ShownCondition? Shown { get; set; }

    public ScriptPart? Part { get; set; }

    public bool IsFahrenheit { get; set; }

    /// <summary>A temperature in the script's unit, within a bound in °C.</summary>
    public double Celsius(ScriptLine line, string what, string form, Bound bound) => Celsius(line, line.Quantity(what, form), bound);

    public double Celsius(ScriptLine line, double value, Bound bound) =>
        line.Within(bound, IsFahrenheit ? (value - 32) * 5 / 9 : value);

    public Crop Crop(ScriptLine line, string form)
    {
        var word = line.Word("crop", form);
        if (Crops.TryGetValue(word, out var crop))
        {
            return crop;
        }

        return Core.Identifier.IsValid(word) && catalog(new(word)) is { } found
            ? found
            : throw line.Wrong($"the crop \"{word}\" is not known; describe it above: {ScriptCrop.Form}");
    }

    public Spot Spot(ScriptLine line)
    {
        var word = line.Word("spot", "... on shelf");
        return Spots.GetValueOrDefault(word)
            ?? throw line.Wrong($"the spot \"{word}\" is not known; declare it above: {DeclarationLines.SpotForm}");
    }

    public ScriptBatch Batch(ScriptLine line, string form)
    {
        var word = line.Word("batch", form);
        return Batches.GetValueOrDefault(word)
            ?? throw line.Wrong($"the batch \"{word}\" is not known; sow it above: {SowingLines.SowForm}");
    }

    public ScriptProbe Probe(ScriptLine line, string word) =>
        Probes.GetValueOrDefault(word)
            ?? throw line.Wrong($"the probe \"{word}\" is not known; declare it above: {DeclarationLines.ProbeForm}");

    public AlertKind Kind(ScriptLine line) =>
        conditions.Kinds.Where(known => line.Take(known.Spelled)).Select(known => (AlertKind?)known).FirstOrDefault()
            ?? throw line.Wrong(
                $"no alert has this name; the names are {string.Join(", ", conditions.Kinds.Select(kind => kind.Spelled))}");

    public static ProbeFault Fault(ScriptLine line) => line.TakeOneOf<ProbeFault>("fault", ProbeFault.None);

    public static CauseKind Why(ScriptLine line) =>
        CauseKinds.All.Where(known => line.Take(known.Words)).Select(known => (CauseKind?)known.Kind).FirstOrDefault()
            ?? throw line.Wrong($"no reason has this name; the names are {string.Join(", ", CauseKinds.All.Select(known => known.Words))}");

    public HomeFacts Facts() => new()
    {
        Zone = Clock.Zone,
        Limits = Limits,
        Probes = [.. Probes.Values.Select(probe => probe.Probe)],
        HandRead = [.. Probes.Values.Where(probe => probe.HandRead).Select(probe => probe.Probe.Id)],
        Spots = [.. Spots.Values],
        Stations = [.. Probes.Values.SelectMany(probe => probe.Stations())],
        Batches = [.. Batches.Values.Select(batch => batch.ToWatched())],
        Calibrations = Calibrations,
        Surveys = Surveys,
        Outages = Outages,
    };
}

/// <summary>The time of the lines of a script.</summary>
internal sealed class ScriptClock
{
    private const string TimeForm = "day 2 08:00: soil reads 24";

    private int day = 1;
    private Instant latest = Instant.MinValue;

    public DateTimeZone Zone { get; set; } = DateTimeZone.Utc;

    public LocalDate FirstDay { get; set; } = new(2026, 3, 2);

    public Instant Start => FirstDay.AtStartOfDayInZone(Zone).ToInstant();

    /// <summary>Takes a time, and a day before it where one stands; without one it is that of the last time taken.</summary>
    public Instant Take(ScriptLine line)
    {
        if (line.Take("day"))
        {
            var number = line.Quantity("day", TimeForm);
            day = number is >= 1 and <= 10_000 && number == Math.Floor(number) ? (int)number : throw line.Wrong("days are counted from 1");
        }

        var time = line.TimeOfDay() ?? throw line.Wrong($"a time of day as HH:mm is missing; write: {TimeForm}");
        return FirstDay.PlusDays(day - 1).At(time).InZoneLeniently(Zone).ToInstant();
    }

    /// <summary>Takes the end of a span; the day of the lines after it is that of its beginning.</summary>
    public Instant TakeEnd(ScriptLine line)
    {
        var before = day;
        var end = Take(line);
        day = before;
        return end;
    }

    /// <summary>A line begins at a time: lines go forward.</summary>
    public void GoTo(Instant at, ScriptLine line)
    {
        if (at < latest)
        {
            throw line.Wrong("this is earlier than the line above; lines go forward in time, and a new day is written as: day 2 08:00");
        }

        latest = at;
    }
}
