using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Core.Alerts.Scripts;

/// <summary>
/// A story about a home in plain lines: spots, probes, batches, readings at times, and the alerts that are expected to be open.
/// docs/alerts.md describes the language. A script runs on the same watch as the service.
/// </summary>
public sealed class WatchScript
{
    internal WatchScript(string name, ConditionSet conditions, HomeFacts facts, IReadOnlyList<ScriptStep> steps, ShownCondition? shows)
    {
        Name = name;
        Conditions = conditions;
        Facts = facts;
        Shows = shows;
        Steps = [.. steps.OrderBy(step => step.At).ThenBy(step => step.Line)];
    }

    /// <summary>The file's name, for messages.</summary>
    public string Name { get; }

    /// <summary>The facts that the script tells, with the limits in force.</summary>
    public HomeFacts Facts { get; }

    /// <summary>The condition that the script shows part by part; null for a story of any kind.</summary>
    public ShownCondition? Shows { get; }

    internal ConditionSet Conditions { get; }

    internal IReadOnlyList<ScriptStep> Steps { get; }

    /// <summary>Every reading of the script, in order of time.</summary>
    public IReadOnlyList<Reading> Readings =>
        [.. Steps.OfType<ReadingStep>().Select(step => step.Reading).OrderBy(reading => reading.MeasuredAt)];

    /// <summary>The last instant that the script speaks of.</summary>
    public Instant End => Steps.Count == 0 ? Instant.FromUnixTimeTicks(0) : Steps[^1].At;

    /// <summary>Reads a script.</summary>
    /// <param name="name">The file's name, for messages.</param>
    /// <param name="text">Its text.</param>
    /// <param name="limits">The limits in force unless the script sets others; null for the defaults.</param>
    /// <param name="catalog">Finds a crop that the script doesn't describe itself; null where there is no catalog.</param>
    /// <exception cref="WatchScriptException">A line cannot be understood; the message names it and gives the fix.</exception>
    public static WatchScript Parse(string name, string text, WatchLimits? limits = null, Func<CropId, Crop?>? catalog = null) =>
        Parse(name, text, ConditionRegistry.Standard, limits, catalog);

    internal static WatchScript Parse(string name, string text, ConditionSet conditions, WatchLimits? limits = null,
        Func<CropId, Crop?>? catalog = null) =>
        new ScriptParser(name, limits ?? new(), conditions, catalog ?? (_ => null)).Parse(text);

    /// <summary>Plays the script and compares what is open with what is expected.</summary>
    public WatchScriptResult Run() => new ScriptPlayer(this).Play();
}

/// <summary>A script that cannot be understood: "name:line: what is wrong; what to write instead".</summary>
public sealed class WatchScriptException : FormatException
{
    internal WatchScriptException(string name, int line, string message)
        : base($"{name}:{line}: {message}")
    {
        Line = line;
        Bare = message;
    }

    /// <summary>The message without the location.</summary>
    internal string Bare { get; }

    /// <summary>The line, from 1.</summary>
    public int Line { get; }
}

/// <summary>How a script went.</summary>
/// <param name="Expectations">How many lines expected something.</param>
/// <param name="Failures">Those that were not met.</param>
/// <param name="Alerts">All alerts that it led to.</param>
/// <param name="Events">All that was said, with the instant of each.</param>
public sealed record WatchScriptResult(
    int Expectations,
    IReadOnlyList<WatchScriptFailure> Failures,
    IReadOnlyList<Alert> Alerts,
    IReadOnlyList<(Instant At, WatchEvent Event)> Events);

/// <summary>An expectation that was not met.</summary>
/// <param name="Line">The line, from 1.</param>
/// <param name="Message">"mat.watch:12: at day 1 17:30 expected too hot on mat, but there is nothing".</param>
public sealed record WatchScriptFailure(int Line, string Message);

internal abstract record ScriptStep(int Line, Instant At);

internal sealed record ReadingStep(int Line, Instant At, Reading Reading) : ScriptStep(Line, At);

internal sealed record RefusalStep(int Line, Instant At, Refusal Refusal) : ScriptStep(Line, At);

internal sealed record ExpectStep(int Line, Instant At, IReadOnlyList<Expected> Alerts, ScriptPart? Part = null) : ScriptStep(Line, At);

/// <summary>An alert expected to be open.</summary>
internal sealed record Expected(AlertKind Kind, string Subject, Severity? Severity, Instant? Since, ProbeFault? Fault = null)
{
    public bool IsMetBy(Alert alert) =>
        alert.Kind == Kind && alert.Subject.Name == Subject
        && (Severity is null || alert.Severity == Severity)
        && (Since is null || alert.Since == Since)
        && (Fault is null || alert.Evidence.Fault == Fault);
}
