namespace Chamber.Core.Alerts.Fold;

/// <summary>What a humidity sensor can tell.</summary>
internal static class HumidityScale
{
    /// <summary>A sensor that reads this or more, %, can tell no more.</summary>
    public const double End = 99.5;
}
