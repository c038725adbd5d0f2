namespace Chamber.Core.Cautions;

/// <summary>A caution that belongs to what somebody is about to do.</summary>
/// <param name="Caution">Which.</param>
/// <param name="InFull">Whether this is the moment to show it in full; otherwise its short line does, with a way to the rest.</param>
public readonly record struct ShownCaution(Caution Caution, bool InFull)
{
    public string Text => InFull ? Caution.Full : Caution.Line;

    public static ShownCaution Whole(Caution caution) => new(caution, true);

    public static ShownCaution Line(Caution caution) => new(caution, false);
}

/// <summary>Cautions as text: the same words on every channel.</summary>
public static class CautionText
{
    /// <summary>Begins every caution, so that none is marked by colour alone.</summary>
    public const string Mark = "Caution: ";

    /// <summary>Ends every caution that is shown in full.</summary>
    public const string Deference = "These are the usual cautions: the maker's instructions, your local code and qualified "
        + "people come first.";

    /// <summary>Each as its moment wants it, in one paragraph; empty when there are none.</summary>
    public static string Of(IReadOnlyCollection<ShownCaution> cautions)
    {
        ArgumentNullException.ThrowIfNull(cautions);
        return cautions.Count == 0
            ? ""
            : Mark + string.Join(' ', cautions.Select(shown => shown.Text).Concat(cautions.Any(shown => shown.InFull) ? [Deference] : []));
    }

    /// <summary>The short lines alone, in one paragraph; empty when there are none.</summary>
    public static string Lines(IReadOnlyCollection<ShownCaution> cautions)
    {
        ArgumentNullException.ThrowIfNull(cautions);
        return cautions.Count == 0 ? "" : Mark + string.Join(' ', cautions.Select(shown => shown.Caution.Line));
    }

    /// <summary>The command that shows the rest; empty when there is no more.</summary>
    public static string More(IReadOnlyCollection<ShownCaution> cautions)
    {
        ArgumentNullException.ThrowIfNull(cautions);
        return MoreOf([.. cautions.Select(shown => shown.Caution.Name)]);
    }

    /// <summary>The same by their names.</summary>
    public static string MoreOf(IReadOnlyCollection<string> names)
    {
        ArgumentNullException.ThrowIfNull(names);
        return names.Count == 0 ? "" : $"More: chamber cautions {string.Join(' ', names)}";
    }
}
