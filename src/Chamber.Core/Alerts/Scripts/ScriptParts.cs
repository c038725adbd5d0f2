using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts.Scripts;

/// <summary>A probe while the script is read.</summary>
internal sealed record ScriptProbe(Probe Probe, bool HandRead)
{
    public List<(Instant At, SpotId? Spot)> Moves { get; } = [];

    public IEnumerable<Station> Stations()
    {
        for (var i = 0; i < Moves.Count; i++)
        {
            if (Moves[i].Spot is { } spot)
            {
                yield return new(Probe.Id, spot, new(Moves[i].At, i + 1 < Moves.Count ? Moves[i + 1].At : null));
            }
        }
    }
}

/// <summary>A batch while the script is read.</summary>
internal sealed record ScriptBatch(BatchId Id, Crop Crop, SowingMethod Method, int Seeds, Instant SownAt)
{
    public List<(Instant At, SpotId Spot)> Moves { get; init; } = [];

    public bool HasCover { get; init; } = true;

    public List<Look> Looks { get; } = [];

    public List<Instant> Wettings { get; } = [];

    public Instant? CoverOffAt { get; set; }

    public Instant? EndedAt { get; set; }

    public ForecastMark? LookFrom { get; set; }

    public ForecastMark? StopWaitingFrom { get; set; }

    public WatchedBatch ToWatched() =>
        new(new(Id, Crop.Id, null, Method, SownAt, Seeds, [.. Stays()], Looks, EndedAt), Crop)
        {
            Wettings = Wettings,
            HasCover = HasCover,
            CoverOffAt = CoverOffAt,
            LookFrom = LookFrom,
            StopWaitingFrom = StopWaitingFrom,
        };

    private IEnumerable<Stay> Stays() =>
        Moves.Select((move, index) => new Stay(move.Spot, new(move.At, index + 1 < Moves.Count ? Moves[index + 1].At : null)));
}

/// <summary>A crop described in a script.</summary>
internal static class ScriptCrop
{
    public const string Form = "crop tomato base 7.6 best 25 to 29 ceiling 40 cool 16.1 hot 30.6 stand 20=98 25=97 30=83";

    private static readonly string[] Parts = ["base", "best", "to", "ceiling", "cool", "hot"];

    public static Crop Parse(ScriptLine line, ScriptDraft draft)
    {
        var word = line.Word("crop", Form);
        var id = Identifier.IsValid(word) ? new CropId(word) : throw line.Wrong($"\"{word}\" cannot name a crop; write: {Form}");
        var numbers = Parts.Select(part =>
        {
            line.Need(part, Form);
            return Temperature.FromCelsius(draft.Celsius(line, part, Form, Bounds.Celsius));
        }).ToArray();
        var stand = line.Take("stand") ? Stand(line, draft) : new([(numbers[1], 1)]);
        try
        {
            var cardinals = new CardinalTemperatures(numbers[0], numbers[1], numbers[2], numbers[3]);
            var profile = new GerminationProfile(cardinals, WarmHours.FromCelsiusDays(100), 0.2, EmergenceEvent.ShootSeen);
            return new(id, id.Text, id.Text, profile, stand, new(numbers[1], numbers[2]), numbers[4], numbers[5],
                LightNeed.Indifferent, []);
        }
        catch (ArgumentException wrong)
        {
            throw line.Wrong($"{wrong.Message} Write: {Form}");
        }
    }

    private static StandCurve Stand(ScriptLine line, ScriptDraft draft)
    {
        var points = new List<(Temperature, double)>();
        while (!line.IsAtEnd)
        {
            var parts = line.Word("stand", Form).Split('=');
            points.Add(parts.Length == 2
                && double.TryParse(parts[0], System.Globalization.CultureInfo.InvariantCulture, out var at)
                && double.TryParse(parts[1], System.Globalization.CultureInfo.InvariantCulture, out var percent)
                    && percent is >= 0 and <= 100
                ? (Temperature.FromCelsius(draft.Celsius(line, at, Bounds.Celsius)), percent / 100)
                : throw line.Wrong($"the stand is a list of temperature=percent; write: {Form}"));
        }

        return points.Count == 0 ? throw line.Wrong($"the stand has no point; write: {Form}")
            : points.DistinctBy(point => point.Item1).Count() < points.Count
                ? throw line.Wrong($"a temperature of the stand is there twice; write: {Form}") : new(points);
    }
}
