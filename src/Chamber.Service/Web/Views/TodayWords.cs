using Chamber.Core.Alerts;
using Chamber.Core.Batches;
using Chamber.Core.Chores;
using Chamber.Core.Crops;
using Chamber.Service.Home.Watching;

namespace Chamber.Service.Web.Views;

/// <summary>Chores in a word, and the stages that a tap on them writes down.</summary>
internal static class TodayWords
{
    public static string Title(ReminderKind kind) => kind switch
    {
        ReminderKind.Look => "Look at",
        ReminderKind.ToTheLight => "Move to the light:",
        ReminderKind.PlantFromTowel => "Plant from the towel:",
        ReminderKind.PrickOut => "Prick out",
        ReminderKind.HardenOff => "Start hardening off",
        ReminderKind.PlantOut => "Plant out",
        ReminderKind.CallTest => "Count the test",
        ReminderKind.Chill => "Into the cold:",
        ReminderKind.EndChill => "Out of the cold:",
        _ => "Stop waiting for",
    };

    public static IEnumerable<(StageKind Stage, string Words)> Stages(TodayItem item, Batch batch) => item.Reminder?.Kind switch
    {
        ReminderKind.PlantFromTowel => [(StageKind.TowelPlanted, "Planted")],
        ReminderKind.PrickOut => [(StageKind.PrickedOut, "Pricked out")],
        ReminderKind.HardenOff => [(StageKind.HardeningOff, "Hardening begun")],
        ReminderKind.PlantOut => [(StageKind.PlantedOut, "Planted out")],
        null when Is(item, AlertKind.CoverShut) && batch.Method == SowingMethod.DampTowel => [(StageKind.TowelPlanted, "Planted")],
        null when Is(item, AlertKind.CoverShut) => [(StageKind.Uncovered, "Cover is off")],
        _ => [],
    };

    /// <summary>Whether what is to be done is a move to the light: then the page asks where to.</summary>
    public static bool AsksForLight(TodayItem item) => item.Reminder?.Kind == ReminderKind.ToTheLight || Is(item, AlertKind.WarmAndDark);

    /// <summary>What the status line says when a stage is written down.</summary>
    public static string Done(StageKind stage) => stage switch
    {
        StageKind.Uncovered => "cover off",
        StageKind.MovedToLight => "in the light",
        StageKind.TowelPlanted => "planted from the towel",
        StageKind.PrickedOut => "pricked out",
        StageKind.PottedOn => "potted on",
        StageKind.HardeningOff => "hardening off",
        _ => "planted out",
    };

    private static bool Is(TodayItem item, AlertKind kind) => item.Alert?.Condition == Choice.Word(kind);
}
