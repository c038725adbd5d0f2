namespace Chamber.Storage.Seam;

/// <summary>
/// Readers compute, and wait for nothing: what they ask of a file on this machine is there when the call returns. Of a store that lies
/// further away it is on its way then; so computing ends, the entrance of the request awaits it, and everything is computed again, with one
/// answer more at hand (<see cref="LoadedStore"/>). No thread stands still meanwhile.
/// </summary>
public static class AtHand
{
    /// <summary>So often a question is asked again: each time for something that was not at hand.</summary>
    public const int TimesMax = 10_000;

    /// <summary>One answer.</summary>
    /// <exception cref="NotAtHandException">It is on its way.</exception>
    public static T Of<T>(ValueTask<T> asked) =>
#pragma warning disable RS0030 // It has ended: nobody waits.
        asked.IsCompleted ? asked.Result : throw new NotAtHandException(asked.AsTask());
#pragma warning restore RS0030

    /// <summary>A stream, item by item as it comes.</summary>
    /// <exception cref="NotAtHandException">The next item is on its way.</exception>
    public static IEnumerable<T> Of<T>(IAsyncEnumerable<T> stream)
    {
        var items = stream.GetAsyncEnumerator();
        var isOnItsWay = false;
        try
        {
            while (true)
            {
                var next = items.MoveNextAsync();
                isOnItsWay = !next.IsCompleted;
                if (!Of(next))
                {
                    yield break;
                }

                yield return items.Current;
            }
        }
        finally
        {
            // A stream that still runs cannot be ended; it ends by itself with the item that it was asked for.
            if (!isOnItsWay)
            {
                Of(Ended(items));
            }
        }
    }

    /// <summary>The answer to a question that computes, once all that it needs is at hand. It is asked again and again, so it may write
    /// nothing.</summary>
    /// <param name="question">What is computed.</param>
    /// <param name="cancel">Ends the wait.</param>
    public static Task<T> AskAsync<T>(Func<T> question, CancellationToken cancel = default) =>
        AskAsync(() => new ValueTask<T>(question()), cancel);

    /// <summary>The same for one that also waits by itself.</summary>
    public static async Task<T> AskAsync<T>(Func<ValueTask<T>> question, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(question);
        for (var times = 1; ; times++)
        {
            Task coming;
            try
            {
                return await question();
            }
            catch (NotAtHandException missing) when (times < TimesMax)
            {
                coming = missing.Coming;
            }

            await coming.WaitAsync(cancel);
        }
    }

    private static async ValueTask<bool> Ended<T>(IAsyncEnumerator<T> items)
    {
        await items.DisposeAsync();
        return true;
    }
}

/// <summary>What was asked of a store is on its way, and not at hand yet.</summary>
/// <param name="coming">Ends when it is there.</param>
public sealed class NotAtHandException(Task coming) : Exception("What is asked of the store is on its way: await it, and ask again.")
{
    /// <summary>Ends when it is there.</summary>
    public Task Coming => coming;
}
