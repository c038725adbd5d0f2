using Chamber.Core.Cautions;

namespace Chamber.Service.Commands.Terminal;

/// <summary>Cautions on a terminal: a line each, and where the rest is when only the short line is there.</summary>
internal static class CautionLines
{
    public static void Warn(this Screen screen, IEnumerable<ShownCaution> cautions)
    {
        var shown = cautions.ToList();
        foreach (var one in shown)
        {
            screen.Warn(Of(one));
        }

        if (shown.Exists(one => one.InFull))
        {
            screen.Aside(CautionText.Deference);
        }
    }

    public static string Of(ShownCaution caution) =>
        CautionText.Mark + caution.Text + (caution.InFull ? string.Empty : $" ({CautionText.More([caution])})");
}
