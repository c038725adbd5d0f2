using Chamber.Service.Configuration;

namespace Chamber.Service.Access;

/// <summary>The web server's endpoint for the home network, which it opens and closes as this says, without a restart.</summary>
internal sealed class PageDoor : ConfigurationProvider, IConfigurationSource
{
    /// <summary>Its name in the web server's configuration.</summary>
    public const string Endpoint = "HomeNetwork";

    public IConfigurationProvider Build(IConfigurationBuilder builder) => this;

    /// <param name="network">What is to be open; null for nothing.</param>
    public void Use(HomeNetworkSettings? network)
    {
        // The endpoint gets its TLS in code, with the certificate that Chamber has made: the address alone would be plain.
        Data = new Dictionary<string, string?>(StringComparer.OrdinalIgnoreCase);
        if (network is not null)
        {
            Data[$"Endpoints:{Endpoint}:Url"] = FormattableString.Invariant($"http://*:{network.PagePort}");
        }

        OnReload();
    }
}
