using Chamber.Core.Alerts;
using Chamber.Core.Climate;

namespace Chamber.Service.Boards;

/// <summary>Units, colours and words that several boards share.</summary>
internal static class Looks
{
    public const string Percent = "percent";
    public const string Plain = "none";
    public const string Seconds = "s";

    public static IReadOnlyList<BoardWord> Severities { get; } =
    [
        new((int)Severity.Note + 1, "Note", "blue"),
        new((int)Severity.Warning + 1, "Warning", "yellow"),
        new((int)Severity.Urgent + 1, "Urgent", "orange"),
        new((int)Severity.Danger + 1, "Danger", "red"),
    ];

    /// <summary>By thirds of what is best.</summary>
    public static IReadOnlyList<BoardStep> Suitability { get; } = [new(null, "red"), new(34, "yellow"), new(67, "green")];

    /// <summary>Of a share that has to become whole.</summary>
    public static IReadOnlyList<BoardStep> Share { get; } = [new(null, "blue"), new(100, "green")];

    /// <summary>Of something that should be none.</summary>
    public static IReadOnlyList<BoardStep> None { get; } = [new(null, "green"), new(1, "red")];

    /// <summary>Of a silence: the usual bound of a probe, and a day.</summary>
    public static IReadOnlyList<BoardStep> Silence { get; } =
        [new(null, "green"), new(Probe.DefaultMaxGap.TotalSeconds, "yellow"), new(24 * 3600, "red")];
}
