namespace Chamber.Core.Alerts.Scripts;

/// <summary>The parts in which a script shows a condition. Each is a heading, "part near miss", over the lines that show it.</summary>
public enum ScriptPart
{
    /// <summary>Just short of the limit, or just short of its time: no alert.</summary>
    NearMiss,

    /// <summary>Over the limit, and not yet for long enough: no alert yet. Where nothing is waited for, just before.</summary>
    Hold,

    /// <summary>It opens.</summary>
    Opens,

    /// <summary>Back inside the limit, and not by enough or not for long enough: it stays open.</summary>
    Stays,

    /// <summary>It closes.</summary>
    Closes,
}

/// <summary>A condition that a script shows part by part: a limit that nobody has seen hold back, open, stay and close is not known to
/// work.</summary>
/// <param name="Line">The line that says so, from 1.</param>
/// <param name="Kind">Which condition.</param>
/// <param name="Fault">Which fault of a probe, for a faulty probe; otherwise null.</param>
public sealed record ShownCondition(int Line, AlertKind Kind, ProbeFault? Fault)
{
    /// <summary>The condition as it is written: "faulty probe by spike".</summary>
    public override string ToString() => Kind.Spelled + (Fault is { } fault ? $" by {Spelling.Spaced(fault.ToString())}" : "");

    /// <summary>How a part is written.</summary>
    internal static string Spell(ScriptPart part) => Spelling.Spaced(part.ToString());

    /// <summary>What the parts of a script do not show.</summary>
    internal IEnumerable<WatchScriptFailure> Missing(WatchScript script)
    {
        foreach (var part in Enum.GetValues<ScriptPart>())
        {
            var expected = script.Steps.OfType<ExpectStep>().Where(step => step.Part == part).ToList();
            if (Wrong(part, expected) is { } wrong)
            {
                yield return new(Line, $"{script.Name}:{Line}: the script shows {this}, but {wrong}");
            }
        }
    }

    private string? Wrong(ScriptPart part, List<ExpectStep> expected)
    {
        if (expected.Count == 0)
        {
            return $"it expects nothing in a part \"{Spell(part)}\"; write the heading \"part {Spell(part)}\" and below it "
                + $"what is expected";
        }

        var isOpen = part is ScriptPart.Opens or ScriptPart.Stays;
        return expected.TrueForAll(step => Names(step) == isOpen)
            ? null
            : $"{(isOpen ? "not every" : "an")} expectation of the part \"{Spell(part)}\" names it; in that part it is "
                + $"{(isOpen ? "open" : "not open")}";
    }

    private bool Names(ExpectStep step) => step.Alerts.Any(alert => alert.Kind == Kind && (Fault is null || alert.Fault == Fault));
}
