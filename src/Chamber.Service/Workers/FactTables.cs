using Chamber.Storage;

namespace Chamber.Service.Workers;

/// <summary>The tables of what the facts come to, at a start.</summary>
internal static class FactTables
{
    /// <summary>Writes again what lies there otherwise than the facts have it, as after an edit of the file.</summary>
    public static void SetRight(ChamberStore store, ILogger logger)
    {
        if (store.Facts.RebuildTables() is { Count: > 0 } wrong)
        {
            var things = string.Join(", ", wrong.Select(one => $"{Choice.Word(one.Kind)} {one}"));
            Log.TablesWrittenAgain(logger, things);
        }
    }
}
