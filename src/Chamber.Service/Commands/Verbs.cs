using System.CommandLine;
using Chamber.Service.Commands.LookingBack;
using Chamber.Service.Commands.Seed;
using Chamber.Service.Commands.Service;
using Chamber.Service.Commands.Sowing;
using Chamber.Service.Commands.Spots;
using Chamber.Service.Commands.Watch;

namespace Chamber.Service.Commands;

/// <summary>Every verb of <c>chamber</c>, in the order in which help lists them. Each has its own file beside this one.</summary>
internal static class Verbs
{
    // By name, because a run needs one of them, and making all takes a tenth of a second.
    private static readonly OrderedDictionary<string, Func<Command>> Makers = new(StringComparer.Ordinal)
    {
        ["run"] = RunVerb.Create,
        ["demo"] = DemoVerb.Create,
        ["read"] = ReadVerb.Create,
        ["import"] = ImportVerb.Create,
        ["probes"] = ProbesVerb.Create,
        ["probe"] = ProbeVerb.Create,
        ["listen"] = ListenVerb.Create,
        ["refusals"] = RefusalsVerb.Create,
        ["calibrate"] = CalibrateVerb.Create,
        ["spot"] = SpotVerb.Create,
        ["spots"] = SpotsVerb.Create,
        ["crops"] = CropsVerb.Create,
        ["warmth"] = WarmthVerb.Create,
        ["forecast"] = ForecastVerb.Create,
        ["fit"] = FitVerb.Create,
        ["learned"] = LearnedVerb.Create,
        ["experience"] = ExperienceVerb.Create,
        ["hindsight"] = HindsightVerb.Create,
        ["replay"] = ReplayVerb.Create,
        ["history"] = HistoryVerb.Create,
        ["undo"] = UndoVerb.Create,
        ["correct"] = CorrectVerb.Create,
        ["remove"] = RemoveVerb.Create,
        ["rename"] = RenameVerb.Create,
        ["set-aside"] = SetAsideVerb.Create,
        ["sow"] = SowVerb.Create,
        ["look"] = LookVerb.Create,
        ["photo"] = PhotoVerb.Create,
        ["water"] = WaterVerb.Create,
        ["note"] = NoteVerb.Create,
        ["batches"] = BatchesVerb.Create,
        ["move"] = MoveVerb.Create,
        ["end"] = EndVerb.Create,
        ["stage"] = StageVerb.Create,
        ["loss"] = StageVerb.CreateLoss,
        ["import-notebook"] = ImportNotebookVerb.Create,
        ["todo"] = TodoVerb.Create,
        ["plant-out"] = TodoVerb.CreatePlantOut,
        ["lots"] = LotsVerb.Create,
        ["lot"] = LotVerb.Create,
        ["test"] = TestVerb.Create,
        ["plan"] = PlanVerb.Create,
        ["dates"] = DatesVerb.Create,
        ["week"] = WeekVerb.Create,
        ["place"] = PlaceVerb.Create,
        ["compare"] = CompareVerb.Create,
        ["review"] = ReviewVerb.Create,
        ["season"] = SeasonVerb.Create,
        ["labels"] = LabelsVerb.Create,
        ["export"] = ExportVerb.Create,
        ["import-home"] = ImportHomeVerb.Create,
        ["calendar"] = ExportVerb.CreateCalendar,
        ["alerts"] = AlertsVerb.Create,
        ["cautions"] = CautionsVerb.Create,
        ["limits"] = LimitsVerb.Create,
        ["maintenance"] = MaintenanceVerb.Create,
        ["watch-test"] = WatchTestVerb.Create,
        ["notices"] = NoticesVerb.Create,
        ["notify-test"] = NotifyTestVerb.Create,
        ["check"] = CheckVerb.Create,
        ["backup"] = BackupVerb.Create,
        ["restore"] = BackupVerb.CreateRestore,
        ["club"] = ClubVerb.Create,
        ["mirror"] = MirrorVerb.Create,
        ["boards"] = BoardsVerb.Create,
        ["broker-user"] = BrokerUserVerb.Create,
        ["tokens"] = TokensVerb.Create,
        ["config"] = ConfigVerb.Create,
        ["completion"] = CompletionVerb.Create,
        ["about"] = AboutVerb.Create,
    };

    /// <summary>Names that verbs had once. They are still understood, and no help lists them.</summary>
    private static readonly Dictionary<string, string> Former = new(StringComparer.Ordinal) { ["doctor"] = "check" };

    /// <summary>The verbs by what they are about, in the order of help.</summary>
    public static IReadOnlyList<(string Room, IReadOnlyList<string> Verbs)> Rooms { get; } =
    [
        ("Spots and probes",
            ["spot", "spots", "probe", "probes", "read", "import", "listen", "refusals", "calibrate", "place", "warmth", "forecast"]),
        ("Seed", ["week", "lot", "lots", "test", "crops", "fit", "plan", "dates"]),
        ("Sowing", ["sow", "look", "photo", "water", "note", "batches", "todo", "move", "stage", "loss", "plant-out", "end", "labels",
            "import-notebook"]),
        ("Watch", ["alerts", "limits", "cautions", "maintenance", "notices", "notify-test", "watch-test"]),
        ("Corrections", ["history", "undo", "correct", "remove", "rename", "set-aside"]),
        ("Looking back", ["review", "compare", "season", "learned", "experience", "hindsight", "replay"]),
        ("Service", ["run", "demo", "check", "backup", "restore", "export", "import-home", "calendar", "club", "mirror", "boards",
            "broker-user", "tokens", "config", "completion", "about"]),
    ];

    public static IEnumerable<string> Names => Makers.Keys;

    /// <summary>The verb of a name.</summary>
    public static Command Of(string name) => Makers[name]();

    /// <summary>The name of a verb that somebody typed with an s too many or too few; null when it is none.</summary>
    public static string? InOtherNumber(string typed) =>
        new[] { typed + "s", typed + "es", typed.TrimEnd('s'), typed.EndsWith("es", StringComparison.Ordinal) ? typed[..^2] : typed }
            .FirstOrDefault(name => name != typed && Makers.ContainsKey(name));

    public static IEnumerable<Command> All() => Makers.Values.Select(make => make());

    /// <summary>The one that the command line begins with; all, also by their former names, when it begins with something else.</summary>
    public static IEnumerable<Command> For(IReadOnlyList<string> arguments) =>
        arguments.Count > 0 && Makers.TryGetValue(arguments[0], out var make) ? [make()]
            : [.. All(), .. Former.Select(name => Hidden(name.Key, Makers[name.Value]()))];

    private static Command Hidden(string name, Command now)
    {
        var former = new Command(name, now.Description) { Hidden = true, Action = now.Action };
        foreach (var option in now.Options)
        {
            former.Add(option);
        }

        return former;
    }
}
