using System.Text.Json.Serialization;
using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Cautions;
using NodaTime;

namespace Chamber.Service.Home.Watching;

/// <summary>An alert for programs, in words too.</summary>
public sealed record AlertAnswer(
    long Number,
    string Condition,
    SubjectKind SubjectKind,
    string Subject,
    Severity Severity,
    Instant Since,
    Instant OpenedAt,
    Instant? ClosedAt,
    CloseReason? CloseReason,
    Instant? SeenAt,
    string? SeenBy,
    Instant? MutedUntil,
    string Title,
    string What,
    string Harm,
    string ToDo,
    string Caution,
    string CautionLine,
    IReadOnlyList<string> Cautions)
{
    /// <summary>Its cautions as its moment wants them; programs have them as text and by name.</summary>
    [JsonIgnore]
    public IReadOnlyList<ShownCaution> Shown { get; init; } = [];

    /// <summary>Null for a kind that this version does not know.</summary>
    public static AlertAnswer? Of(AlertEntry entry, HomeFacts facts, WordStyle style)
    {
        if (AlertRecords.ToAlert(entry) is not { } alert)
        {
            return null;
        }

        var text = ConditionRegistry.InWords(alert, facts, style);
        return new(
            entry.Number, Choice.Word(alert.Kind), alert.Subject.Kind, alert.Subject.Name, alert.Severity, alert.Since, alert.OpenedAt,
                alert.ClosedAt, alert.CloseReason,
            entry.SeenAt, entry.SeenBy, entry.MutedUntil, text.Title, text.What, text.Harm, text.ToDo, text.Caution,
            text.CautionLine, [.. text.Cautions.Select(shown => shown.Caution.Name)])
        {
            Shown = text.Cautions,
        };
    }
}
