using System.CommandLine;

namespace Chamber.Service.Commands.Terminal;

/// <summary>Options and arguments of the project's own types, read by the parsers that throw <see cref="FormatException"/> with the
/// fix.</summary>
internal static class Typed
{
    /// <summary>An option that may be left out; then its value is the default of <typeparamref name="T"/> (null for a <c>T?</c>).</summary>
    public static Option<T> Option<T>(string name, string helpName, string description, Func<string, T> parse) => new(name)
    {
        HelpName = helpName,
        Description = description,
        CustomParser = result => Read(name + " ", result.Tokens[0].Value, parse),
    };

    public static Argument<T> Argument<T>(string name, string description, Func<string, T> parse) => new(name)
    {
        HelpName = name,
        Description = description,
        CustomParser = result => Read(string.Empty, result.Tokens[0].Value, parse),
    };

    private static T Read<T>(string prefix, string text, Func<string, T> parse)
    {
        try
        {
            return parse(text);
        }
        catch (Exception problem) when (problem is FormatException or ArgumentException)
        {
            throw new BadInputException(prefix + problem.Message, problem);
        }
    }
}
