namespace Chamber.Service.Ground;

/// <summary>A name that nobody has taken.</summary>
internal static class FreeName
{
    /// <summary>The wish itself, or with the smallest number that makes it free: <c>tomato-26</c>, <c>tomato-26-2</c>.</summary>
    public static string After(string wish, IReadOnlyCollection<string> taken)
    {
        var name = wish;
        for (var number = 2; taken.Contains(name, StringComparer.OrdinalIgnoreCase); number++)
        {
            name = $"{wish}-{number}";
        }

        return name;
    }
}
