using Chamber.Core;

namespace Chamber.Service.Ground;

/// <summary>What is the matter with what was asked.</summary>
internal enum BadInputKind
{
    /// <summary>It cannot be used as it stands.</summary>
    Unusable,

    /// <summary>It names something that there is not.</summary>
    Unknown,

    /// <summary>It contradicts what is recorded.</summary>
    Contradicts,
}

/// <summary>
/// What was typed or asked, or a file that was named, cannot be used. Its one-line message names it and gives the fix. The command
/// line ends with exit code 2; the API answers with problem details.
/// </summary>
internal sealed class BadInputException : Exception
{
    public BadInputException()
    {
    }

    public BadInputException(string message)
        : base(message)
    {
    }

    public BadInputException(string message, Exception inner)
        : base(message, inner)
    {
    }

    public BadInputKind Kind { get; init; }

    /// <summary>Which part of what was asked, as the API names it; null where that is plain.</summary>
    public string? Field { get; init; }

    /// <summary>What to type next; only the command line says it.</summary>
    public string? Hint { get; init; }

    /// <summary>Whether it may be right all the same: whoever typed it is asked once more.</summary>
    public bool MayBeRight { get; init; }

    /// <summary>There is none of a name, and what was meant: the nearest names, otherwise all of them.</summary>
    /// <param name="what">What it would be: "spot".</param>
    /// <param name="name">As it was typed.</param>
    /// <param name="known">Those that there are, at least one.</param>
    public static BadInputException NoSuch(string what, string name, IReadOnlyCollection<string> known) =>
        Unknown(NearNames.Question(name, known) is { Length: > 0 } question
            ? $"There is no {what} \"{name}\".{question}"
            : $"There is no {what} \"{name}\"; there are {string.Join(", ", known)}.");

    public static BadInputException Unknown(string message, string? hint = null) =>
        new(message) { Kind = BadInputKind.Unknown, Hint = hint };

    public static BadInputException Contradicts(string message, string? field = null) =>
        new(message) { Kind = BadInputKind.Contradicts, Field = field };

    public static BadInputException In(string field, string message) => new(message) { Field = field };

    /// <summary>Names the part of what was asked in whatever refuses it; something unknown there is unusable.</summary>
    public static T In<T>(string field, Func<T> read)
    {
        try
        {
            return read();
        }
        catch (BadInputException problem)
        {
            throw new BadInputException(problem.Message, problem) { Field = problem.Field ?? field, Hint = problem.Hint,
                Kind = problem.Kind == BadInputKind.Unknown ? BadInputKind.Unusable : problem.Kind };
        }
        catch (Exception problem) when (problem is FormatException or ArgumentException)
        {
            throw new BadInputException(problem.Message, problem) { Field = field };
        }
    }
}
