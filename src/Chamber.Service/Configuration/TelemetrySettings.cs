using NodaTime;

namespace Chamber.Service.Configuration;

/// <summary>Where the service's measurements of itself go.</summary>
internal sealed record TelemetrySettings
{
    /// <summary>Serve them to a scraper at /metrics of the page.</summary>
    public bool Prometheus { get; set; } = true;

    /// <summary>Lets a scraper in that is not on this machine. Never shown or logged. Better in <see cref="TokenFile"/> or in
    /// CHAMBER_TELEMETRY__TOKEN.</summary>
    public string? Token { get; set; }

    /// <summary>A file whose first line is the token; relative to the data directory.</summary>
    public string? TokenFile { get; set; }

    /// <summary>Send them, and the spans, to a collector by OTLP over HTTP, such as http://192.168.1.10:4318; null sends nothing.</summary>
    public string? Otlp { get; set; }

    /// <summary>How often metrics are sent there.</summary>
    public Duration Every { get; set; } = Duration.FromMinutes(1);

    public string? ReadToken(DataDirectory data) => TokenFile is { } file ? SecretFile.Read(data.Resolve(file)) : Token;
}

/// <summary>What may stand under <c>telemetry</c>.</summary>
internal static class TelemetryCheck
{
    private const int TokenLengthMin = 16;

    public static IEnumerable<SettingsProblem> Of(TelemetrySettings? telemetry, DataDirectory data)
    {
        if (telemetry is null)
        {
            yield break;
        }

        if (telemetry.Otlp is { } address
            && (!Uri.TryCreate(address, UriKind.Absolute, out var url) || url.Scheme is not ("http" or "https") || url.UserInfo.Length > 0))
        {
            yield return new("telemetry.otlp", "must be where the collector takes OTLP over HTTP, such as \"http://192.168.1.10:4318\".");
        }

        if (telemetry is { Token: not null, TokenFile: not null })
        {
            yield return new("telemetry.tokenFile", "stands beside telemetry.token: keep one of them, better the file.");
        }

        if (telemetry.TokenFile is { } file && !File.Exists(data.Resolve(file)))
        {
            yield return new("telemetry.tokenFile", $"names {data.Resolve(file)}, which does not exist.");
        }

        if (telemetry.Token is { Length: < TokenLengthMin })
        {
            yield return new("telemetry.token", $"is too short: {TokenLengthMin} characters at least.");
        }

        if (Core.Bounds.SentEvery.WhyNot(telemetry.Every) is { } every)
        {
            yield return new("telemetry.every", every);
        }
    }
}
