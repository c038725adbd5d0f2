namespace Chamber.Mqtt.Broker;

/// <summary>What strangers send, made fit for a log: without control characters, and short.</summary>
internal static class StrangerText
{
    private const int LengthMax = 80;

    public static string Of(string? text)
    {
        var shown = string.Concat((text ?? "").Take(LengthMax)
            .Select(letter => char.IsControl(letter) || char.IsSurrogate(letter) ? '?' : letter));
        return text?.Length > LengthMax ? shown + "…" : shown;
    }
}
