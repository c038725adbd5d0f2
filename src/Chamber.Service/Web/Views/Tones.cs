using Chamber.Core.Alerts;

namespace Chamber.Service.Web.Views;

/// <summary>How a card looks for how bad something is.</summary>
internal static class Tones
{
    public static string Of(Severity? severity) => severity switch
    {
        Severity.Danger => "hazard",
        Severity.Urgent => "urgent",
        Severity.Warning => "soon",
        _ => string.Empty,
    };
}
