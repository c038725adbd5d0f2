namespace Chamber.Storage.Seam;

/// <summary>
/// Readers compute, and do not wait: what they ask of the data file is there at once. Of a store that lies further away this waits for the
/// answer, on the thread that asks.
/// </summary>
public static class AtOnce
{
    /// <summary>One answer.</summary>
    public static T Of<T>(ValueTask<T> asked) => asked.IsCompletedSuccessfully ? asked.Result : asked.AsTask().GetAwaiter().GetResult();

    /// <summary>A stream, item by item as it comes.</summary>
    public static IEnumerable<T> Of<T>(IAsyncEnumerable<T> stream)
    {
        var items = stream.GetAsyncEnumerator();
        try
        {
            while (Of(items.MoveNextAsync()))
            {
                yield return items.Current;
            }
        }
        finally
        {
            var ended = items.DisposeAsync();
            if (!ended.IsCompletedSuccessfully)
            {
                ended.AsTask().GetAwaiter().GetResult();
            }
        }
    }
}
