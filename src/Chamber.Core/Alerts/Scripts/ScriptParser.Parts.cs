namespace Chamber.Core.Alerts.Scripts;

/// <summary>Which condition a script shows, and its parts.</summary>
internal sealed partial class ScriptParser
{
    private const string PartForm = "part near miss   (or: hold, opens, stays, closes)";

    private void ParseShows()
    {
        const string form = "shows too hot   (or: shows faulty probe by spike)";
        if (shown is not null)
        {
            throw line.Wrong("a script shows one condition; write another script for the other");
        }

        var kind = Kind();
        var fault = kind == AlertKind.FaultyProbe ? NeededFault(form) : (ProbeFault?)null;
        shown = new(line.Number, kind, fault);
    }

    private void ParsePart()
    {
        if (shown is null)
        {
            throw line.Wrong("parts belong to a script that shows a condition; write above: shows too hot");
        }

        part = Enum.GetValues<ScriptPart>().Where(known => line.Take(ShownCondition.Spell(known))).Select(known => (ScriptPart?)known).FirstOrDefault()
            ?? throw line.Wrong($"no part has this name; write: {PartForm}");
    }

    private ProbeFault NeededFault(string form)
    {
        line.Need("by", form);
        return Fault();
    }
}
