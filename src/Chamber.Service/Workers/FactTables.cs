using Chamber.Storage;

namespace Chamber.Service.Workers;

/// <summary>The tables of what the facts come to, at a start.</summary>
internal static class FactTables
{
    /// <summary>Writes anew what is otherwise there than the facts come to, as when somebody has edited the file: the facts hold.</summary>
    public static void SetRight(ChamberStore store, ILogger logger)
    {
        if (store.Facts.RebuildTables() is { Count: > 0 } wrong)
        {
            var things = string.Join(", ", wrong.Select(one => $"{Choice.Word(one.Kind)} {one}"));
            Log.TablesWrittenAnew(logger, things);
        }
    }
}
