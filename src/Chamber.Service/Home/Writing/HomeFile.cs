using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Home.Writing;

/// <summary>The data file of a home, for whoever writes; readers know the home by its facts and readings alone.</summary>
internal static class HomeFile
{
    /// <exception cref="InvalidOperationException">This home is of no file, or is known as it was earlier.</exception>
    public static ChamberStore File(this HomeReader home) =>
        home.Origin?.Store ?? throw new InvalidOperationException("This home is of no file: nothing can be written down in it.");

    /// <summary>What is written down, for writing: each change has the author and a time.</summary>
    public static Ledger Writing(this HomeReader home, Instant when) => home.File().Ledger.By(home.Author, when);
}
