using System.CommandLine;
using System.Net;
using Chamber.Club.Telemetry;

namespace Chamber.Club.Commands;

/// <summary>Where a process of the club lets itself be scraped.</summary>
internal sealed class MetricsOptions
{
    private readonly Option<int?> port = new Option<int?>("--metrics-port")
    {
        HelpName = "PORT",
        Description = "Where a Prometheus scrapes /metrics, 1 to 65535; nowhere by default.",
    }.Within(1, 65535);

    private readonly Option<string> address = new("--metrics-address")
    {
        HelpName = "IP",
        Description = "The address for that. It asks for no password and names no home.",
        DefaultValueFactory = _ => "127.0.0.1",
    };

    public void AddTo(Command command)
    {
        command.Add(port);
        command.Add(address);
    }

    /// <exception cref="FormatException">The address is none.</exception>
    public Task<MetricsHost?> StartAsync(ParseResult parsed, CancellationToken cancel) => MetricsHost.StartAsync(
        parsed.GetValue(port) is { } number
            ? new(IPAddress.TryParse(parsed.GetValue(address), out var ip) ? ip
                : throw new FormatException("--metrics-address: write an IP address."), number)
            : null, cancel);
}
