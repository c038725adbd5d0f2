namespace Chamber.Service.Commands;

/// <summary>What was typed, or a file that was named, cannot be used. Its one-line message names it and says the mend; the exit code is 2.</summary>
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
}
