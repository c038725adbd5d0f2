using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;

namespace Chamber.Service.Access;

/// <summary>Under which addresses other machines of the home find this one.</summary>
internal static class HomeAddresses
{
    /// <summary>IPv4 addresses of this machine, those that homes use first (RFC 1918); empty without a network.</summary>
    public static IReadOnlyList<string> All() =>
    [
        .. NetworkInterface.GetAllNetworkInterfaces()
            .Where(card => card.OperationalStatus != OperationalStatus.Down && card.NetworkInterfaceType != NetworkInterfaceType.Loopback)
            .OrderByDescending(HasRouter)
            .SelectMany(card => card.GetIPProperties().UnicastAddresses)
            .Select(known => known.Address)
            .Where(address => address.AddressFamily == AddressFamily.InterNetwork && !IPAddress.IsLoopback(address))
            .OrderByDescending(IsOfHome)
            .Select(address => address.ToString())
            .Distinct(),
    ];

    /// <summary>Where phones find the page; null without a network.</summary>
    public static Uri? Page(int port) => All() is [var first, ..] ? new($"https://{first}:{port}/") : null;

    private static bool HasRouter(NetworkInterface card) => card.GetIPProperties().GatewayAddresses.Count > 0;

    private static bool IsOfHome(IPAddress address) => address.GetAddressBytes() switch
    {
        [10, ..] or [192, 168, ..] => true,
        [172, >= 16 and <= 31, ..] => true,
        _ => false,
    };
}
