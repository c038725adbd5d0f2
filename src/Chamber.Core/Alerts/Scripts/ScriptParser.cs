using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;
using Chamber.Core.Crops;

namespace Chamber.Core.Alerts.Scripts;

/// <summary>Reads a script line by line: a line is a declaration, or begins with a time.</summary>
internal sealed class ScriptParser(string name, WatchLimits limits, ConditionSet conditions, Func<CropId, Crop?> catalog)
{
    public WatchScript Parse(string text)
    {
        var draft = new ScriptDraft(limits, conditions, catalog);
        var declarations = new DeclarationLines(draft);
        var timed = new TimedLines(draft);
        foreach (var (index, raw) in text.Split('\n').Index())
        {
            var content = raw.Split('#')[0].Trim();
            if (content.Length == 0)
            {
                continue;
            }

            var line = new ScriptLine(name, index + 1, content.Replace(": ", " : ", StringComparison.Ordinal));
            if (char.IsAsciiDigit(content[0]) || content.StartsWith("day ", StringComparison.Ordinal))
            {
                timed.Parse(line);
            }
            else
            {
                declarations.Parse(line);
            }
        }

        return new(name, conditions, draft.Facts(), draft.Steps, draft.Shown);
    }
}
