using System.Collections.Concurrent;

namespace Chamber.Club.Store;

/// <summary>What the database answered last, for while it is away. Any thread may ask.</summary>
internal sealed class LastAnswers<TQuestion, TAnswer>
    where TQuestion : notnull
{
    // When there are more, all are forgotten: a club that is asked so much is soon asked again.
    private const int CountMax = 10_000;

    private readonly ConcurrentDictionary<TQuestion, TAnswer> known = new();

    /// <summary>The answer, or the one before when the database is away.</summary>
    /// <exception cref="StoreException">It failed, or there was none before.</exception>
    public async Task<TAnswer> AskAsync(TQuestion question, Func<Task<TAnswer>> ask)
    {
        try
        {
            var answer = await ask();
            if (known.Count >= CountMax)
            {
                known.Clear();
            }

            return known[question] = answer;
        }
        catch (StoreException problem) when (problem.Fault == StoreFault.Away && known.TryGetValue(question, out var before))
        {
            return before;
        }
    }
}
