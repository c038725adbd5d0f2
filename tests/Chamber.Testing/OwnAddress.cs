using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;

namespace Chamber.Testing;

/// <summary>The address by which the rest of the home would reach this machine.</summary>
public static class OwnAddress
{
    public static string Find() => NetworkInterface.GetAllNetworkInterfaces()
        .SelectMany(card => card.GetIPProperties().UnicastAddresses)
        .First(address => address.Address.AddressFamily == AddressFamily.InterNetwork && !IPAddress.IsLoopback(address.Address))
        .Address.ToString();
}
