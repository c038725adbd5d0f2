using System.Net;
using Chamber.Core.Alerts.Scripts;
using Chamber.Mqtt.Decoding;

namespace Chamber.Service.Configuration;

/// <summary>A key that cannot stand as it is, and what to do about it.</summary>
internal sealed record SettingsProblem(string Key, string Fix);

/// <summary>What a setting means together with the others, after each could be read by itself.</summary>
internal static class SettingsCheck
{
    public static SettingsProblem? FirstProblem(Settings settings, DataDirectory data) =>
        OwnBroker(settings.Broker, data)
            .Concat(Page(settings.Page, data))
            .Concat(HomeNetwork(settings))
            .Concat(Hub(settings.Hub))
            .Concat(JoinedBroker(settings.Broker, data))
            .Concat(Mappings(settings.Mappings))
            .Concat(NoticeCheck.Problems(settings.Notices, data))
            .Concat(AlertLimits(settings))
            .Concat(Bounds(settings))
            .Concat(Prices(settings.Prices))
            .Concat(MirrorCheck.Of(settings.Mirror, data))
            .Concat(Club(settings.Club, data))
            .Concat(TelemetryCheck.Of(settings.Telemetry, data))
            .FirstOrDefault();

    private static IEnumerable<SettingsProblem> OwnBroker(BrokerSettings broker, DataDirectory data)
    {
        if (!broker.Own)
        {
            yield break;
        }

        if (broker.Host is not null)
        {
            yield return new("broker.host",
                "names a broker to join, so set broker.own to false; or remove it to use the broker inside Chamber.");
        }

        if (broker.Listen.Count == 0)
        {
            yield return new("broker.listen", "is empty, so nobody could connect: remove it for the usual 127.0.0.1, or name an address.");
        }

        for (var i = 0; i < broker.Listen.Count; i++)
        {
            foreach (var problem in Listener(broker.Listen[i], data))
            {
                yield return problem with { Key = $"broker.listen[{i}].{problem.Key}" };
            }
        }
    }

    private static IEnumerable<SettingsProblem> Listener(ListenerSettings listener, DataDirectory data)
    {
        if (!IPAddress.TryParse(listener.Address, out _))
        {
            yield return new("address",
                $"\"{listener.Address}\" is not an IP address: write 127.0.0.1, 0.0.0.0 for all, or one of this machine's.");
        }

        if (!IsPort(listener.Port ?? 1883))
        {
            yield return new("port", $"{listener.Port} is not a port: write a number from 1 to 65535, such as 1883.");
        }

        if (listener.Certificate is null != listener.Key is null)
        {
            yield return new(listener.Certificate is null ? "certificate" : "key", "is missing: TLS needs the certificate and its key.");
        }

        if (listener is { Tls: true, Certificate: not null })
        {
            yield return new("tls", "stands beside a certificate: keep one of them; a certificate means TLS by itself.");
        }

        foreach (var problem in Files(data, ("certificate", listener.Certificate), ("key", listener.Key)))
        {
            yield return problem;
        }
    }

    private static IEnumerable<SettingsProblem> Page(PageSettings page, DataDirectory data) =>
        Listener(new() { Address = page.Address, Port = page.Port, Certificate = page.Certificate, Key = page.Key }, data)
            .Select(problem => problem with { Key = "page." + problem.Key });

    private static IEnumerable<SettingsProblem> Hub(HubSettings? hub)
    {
        if (hub is not null && (!hub.Prefix.Split('/').All(Core.Identifier.IsValid) || hub.Prefix.Length > Core.Bounds.PersonName.LengthMax
            || hub.Prefix.Split('/')[0] == "chamber"))
        {
            yield return new("hub.prefix",
                $"\"{hub.Prefix}\" cannot be a topic to announce under: write what the hub listens to, usually homeassistant.");
        }
    }

    private static IEnumerable<SettingsProblem> HomeNetwork(Settings settings)
    {
        if (settings.HomeNetwork is not { } network)
        {
            yield break;
        }

        int[] taken = [settings.Page.Port, .. settings.Broker.Listen.Select(listener => listener.Port ?? 1883)];
        foreach (var (key, port) in new[] { ("pagePort", network.PagePort), ("sensorPort", network.SensorPort) })
        {
            if (!IsPort(port) || taken.Contains(port))
            {
                yield return new($"homeNetwork.{key}",
                    $"{port} {(IsPort(port) ? "is taken by the page or the broker" : "is not a port")}: write another number from 1 to 65535.");
            }
        }

        if (network.PagePort == network.SensorPort)
        {
            yield return new("homeNetwork.sensorPort", $"{network.SensorPort} is the page's: write another number from 1 to 65535.");
        }
    }

    private static IEnumerable<SettingsProblem> JoinedBroker(BrokerSettings broker, DataDirectory data)
    {
        if (broker.Own)
        {
            yield break;
        }

        if (string.IsNullOrWhiteSpace(broker.Host))
        {
            yield return new("broker.host",
                "is missing: name the broker, such as \"192.168.1.10\", or set broker.own to true to use the one inside Chamber.");
        }
        else if (HostName.WhyNot(broker.Host, "broker.port", "192.168.1.10") is { } host)
        {
            yield return new("broker.host", host);
        }

        if (!IsPort(broker.Port ?? 1883))
        {
            yield return new("broker.port", $"{broker.Port} is not a port: write a number from 1 to 65535, such as 1883.");
        }

        if (broker.ClientId.Length is 0 or > 64)
        {
            yield return new("broker.clientId", "must have 1 to 64 characters: it names the session that the broker keeps for Chamber.");
        }

        foreach (var problem in SignIn("broker", broker.User, broker.Password, broker.PasswordFile, data)
            .Concat(Tls("broker", broker.Tls, data)))
        {
            yield return problem;
        }
    }

    private static IEnumerable<SettingsProblem> Club(ClubSettings? club, DataDirectory data) => club is null ? [] : ClubCheck.Of(club)
        .Concat(IsPort(club.Port ?? 1883) ? []
            : [new("club.port", $"{club.Port} is not a port: write a number from 1 to 65535, such as 1883.")])
        .Concat(SignIn("club", club.User, club.Password, club.PasswordFile, data))
        .Concat(Tls("club", club.Tls, data));

    private static IEnumerable<SettingsProblem> SignIn(
        string broker, string? user, string? password, string? passwordFile, DataDirectory data)
    {
        if (password is not null && passwordFile is not null)
        {
            yield return new($"{broker}.passwordFile", $"stands beside {broker}.password: keep one of them, better the file.");
        }

        if (user is null && (password ?? passwordFile) is not null)
        {
            yield return new($"{broker}.user", "is missing: a password needs a user.");
        }

        foreach (var problem in Files(data, ($"{broker}.passwordFile", passwordFile)))
        {
            yield return problem;
        }
    }

    private static IEnumerable<SettingsProblem> Tls(string broker, TlsSettings? tls, DataDirectory data)
    {
        if (tls is null)
        {
            yield break;
        }

        if (tls.Certificate is null != tls.Key is null)
        {
            yield return new(tls.Certificate is null ? $"{broker}.tls.certificate" : $"{broker}.tls.key",
                "is missing: a client certificate needs its key.");
        }

        foreach (var problem in Files(data, ($"{broker}.tls.authority", tls.Authority), ($"{broker}.tls.certificate", tls.Certificate),
            ($"{broker}.tls.key", tls.Key)))
        {
            yield return problem;
        }
    }

    private static IEnumerable<SettingsProblem> Mappings(IReadOnlyList<TopicMapping> mappings) =>
        TopicMap.TryCreate(mappings, out _, out var errors) ? []
            : errors.Select(error => new SettingsProblem("mappings", error[error.IndexOf('[', StringComparison.Ordinal)..]));

    private static IEnumerable<SettingsProblem> AlertLimits(Settings settings)
    {
        foreach (var (name, value) in settings.AlertLimits)
        {
            SettingsProblem? problem = null;
            try
            {
                LimitText.Set(new(), name, value);
            }
            catch (FormatException wrong)
            {
                problem = new($"alertLimits.{name}", $"is \"{value}\": {wrong.Message}");
            }

            if (problem is not null)
            {
                yield return problem;
            }
        }
    }

    private static IEnumerable<SettingsProblem> Bounds(Settings settings)
    {
        var limits = settings.Limits;
        foreach (var (key, why) in new[]
        {
            ("limits.queuedMessages", Core.Bounds.QueuedMessages.WhyNot(limits.QueuedMessages)),
            ("limits.payloadBytes", Core.Bounds.PayloadBytes.WhyNot(limits.PayloadBytes)),
            ("limits.probes", Core.Bounds.Probes.WhyNot(limits.Probes)),
            ("limits.timeAhead", Core.Bounds.TimeAhead.WhyNot(limits.TimeAhead)),
            ("limits.timeBehind", Core.Bounds.TimeBehind.WhyNot(limits.TimeBehind)),
            ("backups.daily", Core.Bounds.BackupsDaily.WhyNot(settings.Backups.Daily)),
            ("backups.weekly", Core.Bounds.BackupsWeekly.WhyNot(settings.Backups.Weekly)),
            ("retention.minutes", Core.Bounds.ReadingsKept.WhyNot(settings.Retention.Minutes)),
            ("retention.alerts", Core.Bounds.AlertsKept.WhyNot(settings.Retention.Alerts)),
            ("stopWaitingBelow", Core.Bounds.StopWaitingBelow.WhyNot(settings.StopWaitingBelow)),
        })
        {
            if (why is not null)
            {
                yield return new(key, why);
            }
        }

        if (settings.QuietHours is { } quiet && quiet.From == quiet.To)
        {
            yield return new("quietHours", "begin and end at the same time: remove them to have none.");
        }
    }

    private static IEnumerable<SettingsProblem> Prices(PriceSettings prices)
    {
        foreach (var (key, amount) in new[] { ("kilowattHour", prices.KilowattHour), ("mixLitre", prices.MixLitre),
            ("boughtPlant", prices.BoughtPlant ?? 0) })
        {
            if (Core.Bounds.Price.WhyNot(amount) is { } why)
            {
                yield return new("prices." + key, why);
            }
        }

        if (Core.Bounds.PotLitres.WhyNot(prices.ContainerLitres) is { } litres)
        {
            yield return new("prices.containerLitres", litres);
        }

        foreach (var (spot, watts) in prices.Watts)
        {
            if (!Core.Identifier.IsValid(spot))
            {
                yield return new("prices.watts", $"\"{spot}\" cannot name a spot: write the spot's name, as \"chamber spots\" lists it.");
            }

            if (Core.Bounds.Watts.WhyNot(watts) is { } why)
            {
                yield return new($"prices.watts.{spot}", why);
            }
        }
    }

    private static IEnumerable<SettingsProblem> Files(DataDirectory data, params (string Key, string? Name)[] files) =>
        from file in files
        where file.Name is not null && !File.Exists(data.Resolve(file.Name))
        select new SettingsProblem(file.Key, $"names {data.Resolve(file.Name)}, which does not exist.");

    private static bool IsPort(int port) => Core.Bounds.Port.Holds(port);
}
