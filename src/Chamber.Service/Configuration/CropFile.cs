using System.Text.Json;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;

namespace Chamber.Service.Configuration;

/// <summary>
/// The user's own crops: crops.json in the data directory, an object with a crop's name for each key and what changes as its
/// value. Temperatures are words with their unit. <c>{ "leek": { "band": { "low": "61F", "high": "70F" } } }</c>.
/// </summary>
internal static class CropFile
{
    private static readonly JsonSerializerOptions Options = new(SettingsText.Options)
    {
        Converters = { new Word<Temperature>(TemperatureText.Parse, temperature => temperature.ToString()) },
    };

    /// <summary>The shipped crops with the user's over them: first those of the ledger (fitted by <c>fit</c>), then those of the
    /// file.</summary>
    /// <remarks>A crop of the ledger that cannot be used is left out and told, so that it takes no other down.</remarks>
    /// <param name="data">Where the file is.</param>
    /// <param name="saved">Those that were written down, each as JSON.</param>
    /// <param name="leaveOut">Is told what is left out, and why.</param>
    /// <exception cref="BadInputException">The file has something that cannot be used; the message names line and key.</exception>
    public static CropCatalog Catalog(DataDirectory data, IReadOnlyList<(CropId Crop, string Json)> saved,
        Action<string, string> leaveOut)
    {
        var catalog = With(CropCatalog.Shipped, saved, leaveOut);
        return File.Exists(data.Crops) ? With(catalog, data.Crops, TextOf(data.Crops)) : catalog;
    }

    /// <summary>The same for a home that must go on: where the file is broken, its last good copy counts, and without one no crop of
    /// it.</summary>
    /// <param name="data">Where the file is.</param>
    /// <param name="saved">Those that were written down, each as JSON.</param>
    /// <param name="leaveOut">Is told what is left out, and why.</param>
    public static CropCatalog CatalogOrLastGood(DataDirectory data, IReadOnlyList<(CropId Crop, string Json)> saved,
        Action<string, string> leaveOut)
    {
        try
        {
            var whole = Catalog(data, saved, leaveOut);
            LastGood.Keep(data, data.Crops);
            return whole;
        }
        catch (BadInputException problem)
        {
            var catalog = With(CropCatalog.Shipped, saved, leaveOut);
            var copy = LastGood.Read(data, data.Crops);
            leaveOut("crops.json", problem.Message + (copy is null ? " Until it is right, no crop of it is known."
                : $" Until it is right, its last good copy counts: {LastGood.CopyOf(data, data.Crops)}"));
            return copy is null ? catalog : With(catalog, LastGood.CopyOf(data, data.Crops), copy);
        }
    }

    /// <summary>The same of a home that is kept elsewhere.</summary>
    /// <param name="text">Its crops.json; null for none.</param>
    /// <param name="saved">Those that were written down, each as JSON.</param>
    /// <param name="leaveOut">Is told what is left out, and why.</param>
    public static CropCatalog CatalogOf(string? text, IReadOnlyList<(CropId Crop, string Json)> saved, Action<string, string> leaveOut)
    {
        var catalog = With(CropCatalog.Shipped, saved, leaveOut);
        try
        {
            return text is null ? catalog : With(catalog, "crops.json", text);
        }
        catch (BadInputException problem)
        {
            leaveOut("crops.json", $"{problem.Message} Until it is right, no crop of it is known.");
            return catalog;
        }
    }

    /// <summary>One crop's change as it is kept in the ledger.</summary>
    /// <exception cref="JsonException">It is none.</exception>
    public static CropNumbers Parse(string json) => JsonSerializer.Deserialize<CropNumbers>(json, Options) ?? new();

    /// <summary>The same; what cannot be read says nothing.</summary>
    public static CropNumbers ParseOrNothing(string json)
    {
        try
        {
            return Parse(json);
        }
        catch (JsonException)
        {
            return new();
        }
    }

    public static string Write(CropNumbers numbers) => JsonSerializer.Serialize(numbers, Options);

    // A crop may rest on one that comes later: they are tried until no more of them fits.
    private static CropCatalog With(CropCatalog catalog, IReadOnlyList<(CropId Crop, string Json)> saved, Action<string, string> leaveOut)
    {
        List<(CropId Crop, string Json)> rest = [.. saved];
        var before = int.MaxValue;
        while (rest.Count < before)
        {
            before = rest.Count;
            rest.RemoveAll(crop => WhyNot(() => catalog = catalog.With([Parse(crop.Json).ToChange(crop.Crop)])) is null);
        }

        foreach (var (crop, json) in rest)
        {
            var why = WhyNot(() => catalog.With([Parse(json).ToChange(crop)]));
            leaveOut($"Crop {crop}", $"{why} To put it right, record it again: {Again(crop)}.");
        }

        return catalog;
    }

    /// <summary>How your own crop is recorded again, as the end of a sentence.</summary>
    public static string Again(CropId crop) => $"chamber fit --save {crop}, or on the page under Set up, Crops";

    private static string? WhyNot(Action use)
    {
        try
        {
            use();
            return null;
        }
        catch (JsonException problem)
        {
            return SettingsErrors.Tell(problem, (key, _) => key);
        }
        catch (Exception problem) when (problem is FormatException or ArgumentException)
        {
            return problem.Message;
        }
    }

    private static string TextOf(string path)
    {
        try
        {
            return File.ReadAllText(path);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{path} cannot be read: {FileFault.Of(problem)}", problem);
        }
    }

    private static CropCatalog With(CropCatalog catalog, string path, string text)
    {
        try
        {
            var changes = JsonSerializer.Deserialize<Dictionary<string, CropNumbers?>>(text, Options) ?? [];
            return catalog.With(changes.Select(pair => (pair.Value ?? throw new FormatException(
                $"{pair.Key}: write an object in curly brackets after it, or leave it out.")).ToChange(new CropId(pair.Key))).ToList());
        }
        catch (JsonException problem)
        {
            throw new BadInputException(SettingsErrors.Tell(problem, (key, line) => $"{path} line {line}: {key}"), problem);
        }
        catch (Exception problem) when (problem is FormatException or ArgumentException)
        {
            throw new BadInputException($"{path}: {problem.Message}", problem);
        }
    }
}

/// <summary>What the user says of one crop. What is left out stays as the catalog has it.</summary>
internal sealed record CropNumbers
{
    public string? BasedOn { get; init; }

    public string? CommonName { get; init; }

    public string? BotanicalName { get; init; }

    public Temperature? Base { get; init; }

    public Temperature? OptimumLow { get; init; }

    public Temperature? OptimumHigh { get; init; }

    public Temperature? Ceiling { get; init; }

    /// <summary>°C·h.</summary>
    public double? HalfWarmHours { get; init; }

    public double? Spread { get; init; }

    /// <summary>The spread at the ends of <see cref="Tried"/>, where trials found that it changes.</summary>
    public SpreadEnds? SpreadEnds { get; init; }

    public double? HalfDeviation { get; init; }

    public double? BestShare { get; init; }

    /// <summary>What counts as up in these numbers.</summary>
    public EmergenceEvent? Event { get; init; }

    /// <summary>From the coldest to the warmest temperature at which these numbers were tried.</summary>
    public BandText? Tried { get; init; }

    /// <summary>Days to half at temperatures, coolest first, in place of the four temperatures between them.</summary>
    public IReadOnlyList<HalfDaysText?>? HalfDays { get; init; }

    public BandText? Band { get; init; }

    public Temperature? CoolLimit { get; init; }

    public Temperature? HotLimit { get; init; }

    public LightNeed? Light { get; init; }

    public string? Source { get; init; }

    /// <summary>"no", or which part is poisonous and how.</summary>
    public string? Poisonous { get; init; }

    /// <exception cref="ArgumentException">Numbers are out of order.</exception>
    public CropChange ToChange(CropId id) => new(id)
    {
        BasedOn = BasedOn is null ? null : new CropId(BasedOn),
        CommonName = CommonName,
        BotanicalName = BotanicalName,
        Base = Base,
        OptimumLow = OptimumLow,
        OptimumHigh = OptimumHigh,
        Ceiling = Ceiling,
        HalfWarmHours = HalfWarmHours is { } hours ? WarmHours.FromCelsiusHours(hours) : null,
        Spread = Spread,
        SpreadEnds = SpreadEnds,
        HalfDeviation = HalfDeviation,
        BestShare = BestShare,
        Event = Event,
        Tried = Tried is null ? null : new TemperatureBand(Tried.Low, Tried.High),
        HalfDays = HalfDays is null ? null : [.. HalfDays.Select(each => each is null
            ? throw new FormatException("halfDays: each is an object with at and days.") : new HalfDaysAt(each.At, each.Days))],
        Band = Band is null ? null : new TemperatureBand(Band.Low, Band.High),
        CoolLimit = CoolLimit,
        HotLimit = HotLimit,
        Light = Light,
        Source = Source,
        Poisonous = Poisonous,
    };
}

/// <summary>A band as it is written.</summary>
internal sealed record BandText(Temperature Low, Temperature High);

/// <summary>Days to half at a temperature as they are written.</summary>
internal sealed record HalfDaysText(Temperature At, double Days);
