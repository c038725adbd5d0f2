using NodaTime;

namespace Chamber.Service.Configuration;

/// <summary>A server that keeps a copy of the history and speaks the InfluxDB v2 write API.</summary>
internal sealed record MirrorSettings
{
    /// <summary>Where it is, such as http://192.168.1.10:8086.</summary>
    public string Url { get; set; } = "";

    public string Organization { get; set; } = "home";

    public string Bucket { get; set; } = "chamber";

    /// <summary>A tag on every line, which tells homes apart that write into the same bucket: 1 to 60 letters; null is none.</summary>
    public string? Home { get; set; }

    /// <summary>Never shown or logged. Better in <see cref="TokenFile"/> or in CHAMBER_MIRROR__TOKEN. Without one nothing is sent to prove
    /// who writes.</summary>
    public string? Token { get; set; }

    /// <summary>A file whose first line is the token; relative to the data directory.</summary>
    public string? TokenFile { get; set; }

    /// <summary>How often what is new is sent.</summary>
    public Duration Every { get; set; } = Duration.FromSeconds(10);

    /// <summary>Lines in one request, at most.</summary>
    public int BatchLines { get; set; } = 5000;

    /// <summary>What the copy is known by: another one is filled from the beginning.</summary>
    public string Target() => $"{Url.TrimEnd('/')} {Organization}/{Bucket}{(Home is null ? string.Empty : $" as {Home}")}";

    /// <exception cref="BadInputException">Its file cannot be read.</exception>
    public string? ReadToken(DataDirectory data) => TokenFile is { } file ? SecretFile.Read(data.Resolve(file)).Trim() : Token;
}
