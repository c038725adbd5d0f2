using NodaTime;

namespace Chamber.Service.Configuration;

/// <summary>A club of homes that gets every reading of this one, by its own broker.</summary>
internal sealed record ClubSettings
{
    /// <summary>Where the club's broker is.</summary>
    public string Host { get; set; } = "";

    /// <summary>Its port; 1883, or 8883 with TLS by default.</summary>
    public int? Port { get; set; }

    /// <summary>What this home is called in the club: small letters, digits and hyphens.</summary>
    public string Home { get; set; } = "";

    public string? User { get; set; }

    /// <summary>Never shown or logged. Better in <see cref="PasswordFile"/> or in CHAMBER_CLUB__PASSWORD.</summary>
    public string? Password { get; set; }

    /// <summary>A file whose first line is the password; relative to the data directory.</summary>
    public string? PasswordFile { get; set; }

    /// <summary>Encrypted; null is plain.</summary>
    public TlsSettings? Tls { get; set; }

    /// <summary>How often what is new is sent.</summary>
    public Duration Every { get; set; } = Duration.FromSeconds(10);

    /// <summary>What the club's copy is known by: another one is filled from the beginning.</summary>
    public string Target() => $"{Home} at {Host}";
}
