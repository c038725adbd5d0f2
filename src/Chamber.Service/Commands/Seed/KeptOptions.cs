using System.CommandLine;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home;
using NodaTime;

namespace Chamber.Service.Commands.Seed;

/// <summary>What is asked once and kept: the last frost, the room in the light, prices.</summary>
internal static class KeptOptions
{
    /// <summary>The option for the last frost.</summary>
    public static Option<string?> LastFrost() => new("--last-frost") { HelpName = "DAY",
        Description = "The date of your last frost: 2027-05-10 or \"10 May\". It is kept; default: the one said last." };

    /// <summary>The last frost as it was said now, and is kept, or as it was said once.</summary>
    public static LocalDate? LastFrost(Invocation invocation, string? typed)
    {
        if (invocation.DayOf("--last-frost", typed) is { } said)
        {
            Keep(invocation, sheet => sheet.LastFrost = said.ToDateOnly());
            return said;
        }

        return PlanSheet.NextLastFrost(invocation.Home.Ledger, invocation.Now.InZone(invocation.Zone).Date);
    }

    /// <summary>The pots that fit in the light, as they were said now, and are kept, or as they were said once.</summary>
    public static int LightRoom(Invocation invocation, int? typed)
    {
        if (typed is { } said)
        {
            Keep(invocation, sheet => sheet.LightRoom = said);
        }

        return typed ?? PlanSheet.Kept(invocation.Home.Ledger).LightRoom;
    }

    /// <summary>Keeps what was said, so that it need not be said again; an answer of an earlier time writes nothing.</summary>
    public static void Keep(Invocation invocation, Action<PlanSheet> said)
    {
        if (!invocation.IsPast)
        {
            PlanSheet.Keep(invocation.Home.Ledger, invocation.Pen.Choose, said);
        }
    }
}
