using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Crops;

/// <summary>
/// Two phases: seed germinates, and its root is seen; then the shoot grows through what lies above it and is seen. Each takes warm-hours of
/// its own. The shoot grows by the same length in every warm-hour: of onion it does until the cotyledon bends, and its speed rises in a
/// straight line with temperature (T.R. Wheeler and R.H. Ellis, Seed Sci. Res. 1 (1991) 57-67).
/// </summary>
public static class RootAndShoot
{
    /// <summary>
    /// Where nothing is published of a crop or its kin: warm-hours to the root as a share of those to the shoot. The geometric mean of
    /// onion (0.61), pepper (0.47) and fennel (0.69) is 0.58 (RootBeforeShootTests prints them); growers say 0.5 to 0.7, common practice.
    /// </summary>
    public const double UsualRootShare = 0.55;

    /// <summary>
    /// What the shoot grows beside the depth, mm: its bend, and the seed leaves that it lifts and opens. Chosen so that maize rises by a
    /// millimetre in 0.6 °C·d, as C.A. Jones and J.R. Kiniry, CERES-Maize (1986), have it, from memory; wheat takes 1.0 there (J.T. Ritchie
    /// and S. Otter, 1985, from memory).
    /// </summary>
    public const double RiseBesideDepth = 40;

    /// <summary>Warm-hours to the root as a share of those to the shoot at the crop's usual depth, 0 to 1.</summary>
    public static double RootShare(Crop crop)
    {
        ArgumentNullException.ThrowIfNull(crop);
        var genus = crop.BotanicalName.Split(' ')[0];
        return RootShares.TryGetValue(genus, out var share) ? share : UsualRootShare;
    }

    /// <summary>°C·d in which the shoot grows by a millimetre; null for a crop whose numbers count roots, or whose depth is not
    /// known.</summary>
    public static double? DegreeDaysOfMillimetre(Crop crop)
    {
        ArgumentNullException.ThrowIfNull(crop);
        return crop is { Profile.Event: EmergenceEvent.ShootSeen, Guide: { } guide }
            ? (1 - RootShare(crop)) * crop.Profile.HalfWarmHours.CelsiusDays / (guide.DepthMillimetres + RiseBesideDepth) : null;
    }

    /// <summary>The crop's profile for what a method counts, at a depth: the half warm-hours of the root where roots are counted, those
    /// of a shoot from that deep where shoots are. Without a depth, and of numbers that count roots, it is the crop's own.</summary>
    /// <param name="crop">The crop.</param>
    /// <param name="method">How it is sown.</param>
    /// <param name="depthMillimetres">Mix above the seed, mm, 0 or more; null for the usual depth.</param>
    public static GerminationProfile Profile(Crop crop, SowingMethod method, double? depthMillimetres)
    {
        ArgumentNullException.ThrowIfNull(crop);
        if (crop.Profile.Event != EmergenceEvent.ShootSeen)
        {
            return crop.Profile;
        }

        // What the home learns of towels is a factor on the usual share (HomePriors); a crop's own share shifts what it is a factor of.
        var factor = method.Event() == EmergenceEvent.RootSeen ? RootShare(crop) / UsualRootShare : Deeper(crop, depthMillimetres);
        return factor == 1 ? crop.Profile
            : crop.Profile with { HalfWarmHours = WarmHours.FromCelsiusHours(crop.Profile.HalfWarmHours.CelsiusHours * factor) };
    }

    /// <summary>By how much the warm-hours to the shoot grow from the usual depth to another.</summary>
    private static double Deeper(Crop crop, double? depthMillimetres) =>
        depthMillimetres is { } depth && DegreeDaysOfMillimetre(crop) is { } slow
            ? 1 + slow * (depth - crop.Guide!.DepthMillimetres) / crop.Profile.HalfWarmHours.CelsiusDays : 1;

    private static readonly Dictionary<string, double> RootShares = CsvTable.Embedded("root-shares.csv").Rows
        .ToDictionary(row => row.Text("genus"), row => row.Number("share"));
}
