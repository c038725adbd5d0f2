namespace Chamber.Service.Ground;

/// <summary>A message as a single line that has an end, whatever was typed into it.</summary>
internal static class OneLine
{
    private const int LengthMax = 2_000;

    public static string Of(string message) => Cut(
        string.Join(' ', message.Split(['\r', '\n'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)));

    private static string Cut(string line) => line.Length <= LengthMax ? line : $"{line[..(LengthMax / 2)]} ... {line[^(LengthMax / 2)..]}";
}
