using Chamber.Core.Batches;
using Chamber.Core.Seeds;
using NodaTime;

namespace Chamber.Service.Home.Writing;

/// <summary>What is recorded of a lot and may be unknown.</summary>
internal enum LotPart
{
    Variety,
    Year,
    Parent,
    Price,
    Stated,
    Note,
}

/// <summary>A lot of seed to be recorded, or changed. What is left out stays as it is.</summary>
/// <param name="Crop">The crop, by any of its names; needed for a new lot.</param>
/// <param name="Seeds">How many seeds there are now, 0 or more; a new lot needs it.</param>
/// <param name="Variety">The variety, or null.</param>
/// <param name="Year">The year of harvest, or the one on the packet.</param>
/// <param name="YearIs">Which year that is; harvested for saved seed, otherwise packed for.</param>
/// <param name="Saved">Saved at home; bought by default, or unless it has a parent.</param>
/// <param name="Parent">The lot whose plants it came from.</param>
/// <param name="Price">What it cost.</param>
/// <param name="Storage">Where it is kept; a room by default.</param>
/// <param name="Treated">Treated with a pesticide; not by default.</param>
/// <param name="Stated">The germination on the packet, 0 to 1.</param>
/// <param name="Note">What else you know.</param>
/// <param name="Forget">What was recorded and is no longer known.</param>
internal sealed record LotRequest(
    string? Crop = null,
    int? Seeds = null,
    string? Variety = null,
    int? Year = null,
    LotYearKind? YearIs = null,
    bool? Saved = null,
    LotId? Parent = null,
    decimal? Price = null,
    SeedStorage? Storage = null,
    bool? Treated = null,
    double? Stated = null,
    string? Note = null,
    IReadOnlyList<LotPart>? Forget = null);

/// <summary>A new count of a lot.</summary>
/// <param name="Seeds">How many there are now, 0 or more.</param>
internal sealed record CountRequest(int Seeds);

/// <summary>A test to be started on a towel.</summary>
/// <param name="Spot">Where the towel lies.</param>
/// <param name="Seeds">How many seeds. Default: as test plan says.</param>
/// <param name="At">When it was wetted; now by default.</param>
internal sealed record TestStartRequest(string Spot, int? Seeds = null, string? At = null);

/// <summary>The result of a running test.</summary>
/// <param name="Good">How many gave a healthy root and shoot; as many as the last look counted by default.</param>
internal sealed record TestCallRequest(int? Good = null);

/// <summary>A test that was done without Chamber.</summary>
/// <param name="Good">How many gave a healthy root and shoot.</param>
/// <param name="Seeds">Out of how many, at least 1.</param>
/// <param name="Unfair">It was too hot or too cold to be a fair test.</param>
/// <param name="At">When it was called; now by default.</param>
internal sealed record TestRecordRequest(int Good, int Seeds, bool Unfair = false, string? At = null);

/// <summary>A test that has been started.</summary>
/// <param name="Batch">The batch that it runs as; looked at like any other.</param>
/// <param name="Lot">Which lot.</param>
/// <param name="Seeds">How many were laid out.</param>
/// <param name="CallOn">The day to call it.</param>
/// <param name="Advice">How to lay it out, a sentence each.</param>
/// <param name="Warnings">What is odd about it, a sentence each.</param>
/// <param name="Cautions">What to mind with it.</param>
internal sealed record TestStarted(BatchId Batch, LotId Lot, int Seeds, LocalDate CallOn, IReadOnlyList<string> Advice,
    IReadOnlyList<string> Warnings, IReadOnlyList<CautionAnswer> Cautions);

/// <summary>A test with its result.</summary>
/// <param name="Lot">Which lot.</param>
/// <param name="Good">How many were good.</param>
/// <param name="Seeds">Of how many.</param>
/// <param name="Fair">Whether the conditions were fair; null when nobody measured.</param>
internal sealed record TestResult(LotId Lot, int Good, int Seeds, FairTest? Fair)
{
    /// <summary>What is odd about it, a sentence each.</summary>
    public IReadOnlyList<string> Warnings { get; init; } = [];
}
