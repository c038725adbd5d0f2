namespace Chamber.Service.Configuration;

/// <summary>What may stand under <c>mirror</c>.</summary>
internal static class MirrorCheck
{
    private const int HomeLengthMax = 60;

    public static IEnumerable<SettingsProblem> Of(MirrorSettings? mirror, DataDirectory data)
    {
        if (mirror is null)
        {
            yield break;
        }

        if (!Uri.TryCreate(mirror.Url, UriKind.Absolute, out var url) || url.Scheme is not ("http" or "https") || url.UserInfo.Length > 0)
        {
            yield return new("mirror.url",
                "must be where the server answers, such as \"http://192.168.1.10:8086\", without a name or password in it.");
        }

        foreach (var (key, value) in new[] { ("mirror.organization", mirror.Organization), ("mirror.bucket", mirror.Bucket) })
        {
            if (string.IsNullOrWhiteSpace(value))
            {
                yield return new(key, "is empty: name it as the server knows it.");
            }
        }

        if (mirror.Home is { } home && (home.Trim() != home || home.Length is 0 or > HomeLengthMax || home.Any(char.IsControl)
            || home.EndsWith('\\')))
        {
            yield return new("mirror.home",
                $"is a tag: 1 to {HomeLengthMax} letters on one line, no blanks at its ends, no backslash at its end.");
        }

        if (mirror is { Token: not null, TokenFile: not null })
        {
            yield return new("mirror.tokenFile", "stands beside mirror.token: keep one of them, better the file.");
        }

        if (mirror.TokenFile is { } file && !File.Exists(data.Resolve(file)))
        {
            yield return new("mirror.tokenFile", $"names {data.Resolve(file)}, which does not exist.");
        }

        if (Core.Bounds.SentEvery.WhyNot(mirror.Every) is { } every)
        {
            yield return new("mirror.every", every);
        }

        if (Core.Bounds.BatchLines.WhyNot(mirror.BatchLines) is { } lines)
        {
            yield return new("mirror.batchLines", lines);
        }
    }
}
