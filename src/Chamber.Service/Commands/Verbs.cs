using System.CommandLine;

namespace Chamber.Service.Commands;

/// <summary>Every verb of <c>chamber</c>, in the order in which help lists them. Each has a file of its own beside this one.</summary>
internal static class Verbs
{
    public static IEnumerable<Command> All() =>
    [
        RunVerb.Create(),
        DemoVerb.Create(),
        ReadVerb.Create(),
        ImportVerb.Create(),
        ProbesVerb.Create(),
        ProbeVerb.Create(),
        SpotVerb.Create(),
        SpotsVerb.Create(),
        CropsVerb.Create(),
        WarmthVerb.Create(),
        ForecastVerb.Create(),
        FitVerb.Create(),
        SowVerb.Create(),
        LookVerb.Create(),
        BatchesVerb.Create(),
        MoveVerb.Create(),
        EndVerb.Create(),
        StageVerb.Create(),
        StageVerb.CreateLoss(),
        TodoVerb.Create(),
        TodoVerb.CreatePlantOut(),
        LotsVerb.Create(),
        LotVerb.Create(),
        TestVerb.Create(),
        PlanVerb.Create(),
        DatesVerb.Create(),
        PlaceVerb.Create(),
        CompareVerb.Create(),
        ReviewVerb.Create(),
        SeasonVerb.Create(),
        LabelsVerb.Create(),
        ExportVerb.Create(),
        ExportVerb.CreateCalendar(),
        AlertsVerb.Create(),
        CheckVerb.Create(),
        BackupVerb.Create(),
        BackupVerb.CreateRestore(),
        MirrorVerb.Create(),
        BrokerUserVerb.Create(),
        ConfigVerb.Create(),
        AboutVerb.Create(),
    ];
}
