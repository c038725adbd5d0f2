using Chamber.Mqtt.Forwarding;
using Chamber.Service.Configuration;

namespace Chamber.Service.Checks;

/// <summary>Looks at the broker of the club, where there is one.</summary>
internal static class ClubFindings
{
    public static async Task<IReadOnlyList<Finding>> All(
        Settings settings, DataDirectory data, TimeProvider clock, CancellationToken cancel)
    {
        if (settings.Club is not { } club)
        {
            return [];
        }

        var address = BrokerParts.OfClub(club, data);
        using var connection = new ClubConnection(address with { ClientId = $"{address.ClientId}-check" }, club.Home, clock);
        return await connection.JoinAsync(cancel) is { } fault
            ? [Finding.Wrong("club", fault)]
            : [Finding.Fine("club", $"the broker of the club lets {club.Target()} in; whether the club confirms, chamber club says")];
    }
}
