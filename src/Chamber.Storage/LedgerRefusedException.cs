namespace Chamber.Storage;

/// <summary>Somebody wrote down something that contradicts what the ledger knows. Nothing was changed. The message is for the person: what is wrong, and the mend.</summary>
public sealed class LedgerRefusedException(string message) : Exception(message)
{
    internal static void When(bool wrong, string message)
    {
        if (wrong)
        {
            throw new LedgerRefusedException(message);
        }
    }
}
