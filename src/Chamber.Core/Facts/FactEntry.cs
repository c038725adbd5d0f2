using NodaTime;

namespace Chamber.Core.Facts;

/// <summary>By which way a fact came in.</summary>
public enum WriteWay
{
    /// <summary>The page.</summary>
    Page,

    /// <summary>The command line.</summary>
    CommandLine,

    /// <summary>A program that uses the API.</summary>
    Api,

    /// <summary>A file that was read in.</summary>
    Import,

    /// <summary>Chamber itself, or an older version that did not write down who it was.</summary>
    Program,
}

/// <summary>Who wrote a fact down, and by which way.</summary>
/// <param name="Who">The name of a person or program; empty where nobody said.</param>
/// <param name="Way">By which way.</param>
public readonly record struct Author(string Who, WriteWay Way)
{
    /// <summary>Chamber itself.</summary>
    public static Author Program { get; } = new("", WriteWay.Program);
}

/// <summary>A fact as it is written down, for ever: what turns out wrong is corrected or withdrawn by a later entry.</summary>
/// <param name="Number">Its number, growing by one.</param>
/// <param name="Act">The number of the first entry that was written down with it, in one act; its own when it was alone.</param>
/// <param name="Fact">What.</param>
/// <param name="At">When it was true.</param>
/// <param name="WrittenAt">When it was written down.</param>
/// <param name="By">Who wrote it down, and by which way.</param>
public sealed record FactEntry(long Number, long Act, Fact Fact, Instant At, Instant WrittenAt, Author By);

/// <summary>A fact cannot be true beside what is known; the message says why and what to do.</summary>
/// <param name="text">What is wrong.</param>
/// <param name="field">Which entry is wrong, as requests name it; null when it is not one entry.</param>
public sealed class FactRefusedException(DatedText text, string? field = null) : RefusedException(text, field)
{
    internal static void When(bool wrong, FormattableString text, string? field = null)
    {
        if (wrong)
        {
            throw new FactRefusedException(new(text), field);
        }
    }

    internal static void When(string? why, string? field = null)
    {
        if (why is not null)
        {
            throw new FactRefusedException(new($"{why}"), field);
        }
    }
}
