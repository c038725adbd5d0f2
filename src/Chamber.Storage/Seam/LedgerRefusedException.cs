using Chamber.Core;

namespace Chamber.Storage.Seam;

/// <summary>Somebody recorded something that contradicts what the ledger knows. Nothing was changed. The message is for the person: what
/// is wrong, and the fix.</summary>
public sealed class LedgerRefusedException(DatedText text) : RefusedException(text)
{
    internal LedgerRefusedException(string message)
        : this(new DatedText($"{message}"))
    {
    }

    internal static void When(string? why)
    {
        if (why is not null)
        {
            throw new LedgerRefusedException(why);
        }
    }

    internal static void When(bool wrong, string message)
    {
        if (wrong)
        {
            throw new LedgerRefusedException(message);
        }
    }

    /// <summary>With moments in it.</summary>
    internal static void When(bool wrong, Func<DatedText> text)
    {
        if (wrong)
        {
            throw new LedgerRefusedException(text());
        }
    }
}
