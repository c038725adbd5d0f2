namespace Chamber.Service.Mirror;

/// <summary>Sends lines by one request.</summary>
internal delegate Task<Answer> SendLines(IReadOnlyList<string> lines, CancellationToken cancellationToken);

/// <summary>What became of a whole batch: taken but for the refused lines, or to be tried again as a whole.</summary>
/// <param name="Trouble">Why it is to be tried again; null when the server has it.</param>
/// <param name="After">How long the server asked to wait.</param>
/// <param name="Refused">Lines that the server refused for good, each with the reason.</param>
internal sealed record Posted(string? Trouble, TimeSpan? After, IReadOnlyList<(string Line, string Reason)> Refused);

/// <summary>
/// Posts a batch, halved for as long as the server finds it too large, and halved around a line that it refuses until that line
/// stands alone and can be set aside. A server that refuses everything is not believed: the fault is in the settings then.
/// </summary>
internal sealed class LinePost(SendLines send)
{
    /// <summary>So many lines refused in one batch, and none taken, mean that no line of ours is welcome.</summary>
    public const int RefusedMax = 20;

    private const int LinesMin = 1;
    private int limit = int.MaxValue;

    public async Task<Posted> SendAsync(IReadOnlyList<string> lines, CancellationToken cancellationToken)
    {
        var refused = new List<(string, string)>();
        var taken = 0;
        var waiting = new Stack<IReadOnlyList<string>>();
        Push(waiting, lines);
        while (waiting.TryPop(out var part))
        {
            var answer = await send(part, cancellationToken);
            switch (answer.Receipt)
            {
                case Receipt.Taken:
                    taken += part.Count;
                    break;
                case Receipt.Later:
                    return new(answer.Reason, answer.After, []);
                case Receipt.TooMany when part.Count > LinesMin:
                    limit = Math.Min(limit, Math.Max(LinesMin, part.Count / 2));
                    Push(waiting, part);
                    break;
                case var _ when part.Count > 1:
                    Push(waiting, [.. part.Skip(part.Count / 2)]);
                    Push(waiting, [.. part.Take(part.Count / 2)]);
                    break;
                default:
                    refused.Add((part[0], answer.Reason));
                    break;
            }

            if (refused.Count >= RefusedMax && taken == 0)
            {
                return new($"the server refuses every line ({answer.Reason}): check mirror.url, and what the bucket takes.", null, []);
            }
        }

        Grow(lines.Count);
        return new(null, null, refused);
    }

    // In order: the first part comes off the stack first.
    private void Push(Stack<IReadOnlyList<string>> waiting, IReadOnlyList<string> lines)
    {
        foreach (var part in lines.Chunk(Math.Min(limit, Math.Max(1, lines.Count))).Reverse())
        {
            waiting.Push(part);
        }
    }

    // The limit of yesterday need not be that of today.
    private void Grow(int sent) => limit = limit < sent || limit == int.MaxValue
        ? limit + Math.Min(limit / 16, int.MaxValue - limit) : limit;
}
