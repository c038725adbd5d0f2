using System.Globalization;
using Chamber.Core.Climate;

namespace Chamber.Core.Crops;

/// <summary>What part of the garden a crop belongs to.</summary>
public enum CropGroup
{
    Vegetable,
    Herb,
    Flower,
}

/// <summary>How well seed of a crop comes up, and moves, from a damp towel.</summary>
public enum TowelSuitability
{
    Good,
    Possible,
    Poor,
    No,
}

/// <summary>How sure the numbers of a catalog entry are, as a whole.</summary>
public enum Certainty
{
    High,
    Medium,
    Low,
}

/// <summary>A closed range of whole weeks or days, low to high; may be negative. The default value is 0 to 0.</summary>
public readonly record struct WholeRange(int Low, int High);

/// <summary>How a laboratory tests the seed: US rules, 7 CFR 201.58. The best guide to how long a towel test must run.</summary>
/// <param name="Temperatures">°C as the rule prints them; <c>20-30</c> is 20 °C for 16 h and 30 °C for 8 h a day, in the paper or
/// mix.</param>
/// <param name="FirstCountDay">Day of the first count.</param>
/// <param name="FinalCountDay">Day of the last count.</param>
/// <param name="Note">What else the rule asks ("light", "keep substratum on dry side"), or empty.</param>
public sealed record LabTest(string Temperatures, int? FirstCountDay, int? FinalCountDay, string Note)
{
    /// <summary>The hours of a day by the first temperatures of the rule: two alternate, the cooler one for 16 h.</summary>
    public IReadOnlyList<Temperature> Day()
    {
        var parts = Temperatures.Split(';')[0].Split(' ')[0].Split('-')
            .Select(part => Temperature.FromCelsius(double.Parse(part, CultureInfo.InvariantCulture))).ToArray();
        return [.. Enumerable.Range(0, 24).Select(hour => hour < 16 ? parts[0] : parts[^1])];
    }
}

/// <summary>How to sow a crop and grow it on. Absent where no source was found.</summary>
public sealed record CropGuide
{
    public required CropGroup Group { get; init; }

    /// <summary>Other names by which people call it.</summary>
    public IReadOnlyList<string> Aliases { get; init; } = [];

    /// <summary>Millimetres of mix above the seed; 0 is pressed on and left open.</summary>
    public required double DepthMillimetres { get; init; }

    /// <summary>What it wants of light, in the words of the source: "light helps; barely cover".</summary>
    public required string LightNote { get; init; }

    /// <summary>Weeks from sowing to planting out, without the days to come up in a cool place.</summary>
    public WholeRange? WeeksToPlantOut { get; init; }

    /// <summary>Weeks from the last frost to planting out; negative is before it.</summary>
    public WholeRange? PlantOutWeeksAfterFrost { get; init; }

    /// <summary>Days to come up as packets and handbooks print them.</summary>
    public WholeRange? TypicalDays { get; init; }

    /// <summary>The wide band of mix temperatures that extension tables print. Means "comes up", not "comes up best".</summary>
    public TemperatureBand? HandbookBand { get; init; }

    /// <summary>The narrower band of mix temperatures that growers aim at.</summary>
    public TemperatureBand? GrowerBand { get; init; }

    /// <summary>A band of room air, a different quantity: never average it with the others.</summary>
    public TemperatureBand? RoomAirBand { get; init; }

    /// <summary>Day temperatures for growing on after it came up.</summary>
    public TemperatureBand? GrowingDay { get; init; }

    /// <summary>The coolest night for growing on.</summary>
    public Temperature? GrowingNight { get; init; }

    public LabTest? LabTest { get; init; }

    /// <summary>Years that seed lasts in a good store.</summary>
    public int? LifeYears { get; init; }

    /// <summary>The share that seed on sale must reach, 0 to 1: a floor, not what to expect.</summary>
    public double? LegalMinimum { get; init; }

    /// <summary>Whose rule <see cref="LegalMinimum"/> is; null without one.</summary>
    public LegalRule? LegalRule { get; init; }

    public required TowelSuitability Towel { get; init; }

    public string TowelNote { get; init; } = "";

    /// <summary>What to do with the seed before sowing, or "none".</summary>
    public string Pretreatment { get; init; } = "";

    /// <summary>When to prick out or pot on, in the words of the source.</summary>
    public string PotOn { get; init; } = "";

    /// <summary>Whether seedlings are set singly, or in clumps, into cells after they came up; not where they are sown in their own pot, in
    /// cells, in clumps that stay whole, or in place.</summary>
    public bool IsPrickedOut { get; init; }

    /// <summary>How it takes to being moved.</summary>
    public string Transplants { get; init; } = "";

    /// <summary>Sown where it is to grow, since it does not bear being moved: nothing to start indoors, harden off or plant out.</summary>
    public bool IsSownInPlace => Transplants == "no";

    public required Certainty Certainty { get; init; }
}
