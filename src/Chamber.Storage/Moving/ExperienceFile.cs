using System.Globalization;
using System.Text;
using System.Text.Json;
using Chamber.Core;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts.Together;
using Chamber.Core.Spots;

namespace Chamber.Storage.Moving;

/// <summary>What homes give one another, as JSON with a version (docs/experience.md). In a home's own directory it also has the name under
/// which that home gives.</summary>
/// <remarks>What cannot be used is a <see cref="FormatException"/> that names the place and the fix.</remarks>
public sealed record ExperienceFile(IReadOnlyList<HomeExperience> Homes)
{
    public const string Format = "chamber experience";
    public const int Version = 1;

    /// <summary>No file is longer: 2,000 homes of 120 batches.</summary>
    public const long LengthMax = 64_000_000;

    /// <summary>As many digits as a random name has: 128 bits as hexadecimal.</summary>
    public const int NameLength = 32;

    private const string NumberForm = "0.####";

    /// <summary>The name under which the home gives that keeps this file; null in a file that was given.</summary>
    public string? Own { get; init; }

    /// <summary>The file as text, each batch on a line of its own.</summary>
    public string Write()
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"{{\n  \"format\": \"{Format}\",\n  \"version\": {Version},\n");
        if (Own is { } own)
        {
            text.Append(CultureInfo.InvariantCulture, $"  \"own\": \"{own}\",\n");
        }

        text.Append("  \"homes\": [");
        text.AppendJoin(",", Homes.Select(home => $"\n    {{ \"home\": \"{home.Home}\", \"batches\": ["
            + string.Join(",", home.Batches.Select(batch => $"\n      {Write(batch)}")) + (home.Batches.Count > 0 ? "\n    ] }" : "] }")));
        return text.Append("\n  ]\n}\n").ToString();
    }

    /// <summary>Reads such a file.</summary>
    public static ExperienceFile Read(string text)
    {
        using var document = Parse(text);
        var root = new JsonPlace(document.RootElement, "");
        if (root.Find("format")?.Text() != Format)
        {
            throw new FormatException($"This is no file of experience: it has no \"format\": \"{Format}\". One is made by: "
                + "chamber experience give FILE");
        }

        if (root.Required("version").Whole(new Bound("the version", 1, int.MaxValue, "", "write 1")) is > Version and var newer)
        {
            throw new FormatException($"version: {newer} is newer than this program knows; update Chamber, or ask for a file of version "
                + $"{Version}.");
        }

        var homes = root.Required("homes").Items().Select(Home).ToList();
        _ = homes.Count == 0 ? 0 : Bounds.ExperienceHomes.Require(homes.Count);
        if (homes.GroupBy(home => home.Home).FirstOrDefault(same => same.Count() > 1) is { Key: var twice })
        {
            throw new FormatException($"homes: {twice} stands twice; keep one of them.");
        }

        return new(homes) { Own = root.Find("own")?.Name(NameLength) };
    }

    private static JsonDocument Parse(string text)
    {
        try
        {
            return JsonDocument.Parse(text);
        }
        catch (JsonException problem)
        {
            throw new FormatException($"line {problem.LineNumber + 1}: this is no JSON; ask for the file again.", problem);
        }
    }

    private static HomeExperience Home(JsonPlace home)
    {
        var batches = home.Required("batches").Items().Select(Batch).ToList();
        return Bounds.ExperienceBatches.WhyNot(batches.Count) is { } why ? throw new FormatException($"{home.Path}: {why}")
            : new(home.Required("home").Name(NameLength), batches);
    }

    private static BatchExperience Batch(JsonPlace batch) => new(
        batch.Required("crop").Read(text => new CropId(text)),
        batch.Required("halfWarmHours").Number(Bounds.ExperienceTable),
        batch.Required("baseCelsius").Number(Bounds.TrialCelsius),
        batch.Required("method").Choice<SowingMethod>())
    {
        Spot = batch.Find("spot")?.Choice<SpotKind>(),
        SeedYears = batch.Find("seedYears")?.Whole(Bounds.SeedYears),
        Lot = batch.Find("lot")?.Whole(Bounds.ExperienceLot),
        PerBaseKelvin = batch.Find("perBaseKelvin")?.Number(Bounds.ExperiencePerKelvin) ?? 0,
        Speed = new(batch.Required("shift").Number(Bounds.ExperienceShift), batch.Required("doubt").Number(Bounds.ExperienceDoubt)),
    };

    private static string Write(BatchExperience batch)
    {
        var members = new List<string>
        {
            Member("crop", $"\"{batch.Crop}\""),
            Member("halfWarmHours", Number(batch.HalfWarmHours)),
            Member("baseCelsius", Number(batch.BaseCelsius)),
            Member("method", $"\"{Word(batch.Method)}\""),
        };
        AddIf(batch.Spot is not null, "spot", $"\"{(batch.Spot is { } spot ? Word(spot) : "")}\"");
        AddIf(batch.SeedYears is not null, "seedYears", $"{batch.SeedYears}");
        AddIf(batch.Lot is not null, "lot", $"{batch.Lot}");
        AddIf(batch.PerBaseKelvin != 0, "perBaseKelvin", Number(batch.PerBaseKelvin));
        members.Add(Member("shift", Number(batch.Speed.Shift)));
        members.Add(Member("doubt", Number(batch.Speed.Doubt)));
        return $"{{ {string.Join(", ", members)} }}";

        void AddIf(bool has, string name, string value)
        {
            if (has)
            {
                members.Add(Member(name, value));
            }
        }
    }

    private static string Member(string name, string value) => $"\"{name}\": {value}";

    private static string Number(double value) => value.ToString(NumberForm, CultureInfo.InvariantCulture);

    private static string Word<T>(T value)
        where T : struct, Enum => JsonNamingPolicy.CamelCase.ConvertName(value.ToString());
}
