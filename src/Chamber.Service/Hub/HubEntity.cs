using System.Text.Json.Nodes;
using Chamber.Mqtt;

namespace Chamber.Service.Hub;

/// <summary>One value that a home-automation hub is to show, as the MQTT discovery convention announces it: a retained description under
/// <c>prefix/component/node/object/config</c>.</summary>
/// <param name="Component">sensor or binary_sensor.</param>
/// <param name="Device">To which thing it belongs.</param>
/// <param name="Id">Its own name among those of the thing.</param>
/// <param name="Name">What people read.</param>
/// <param name="Template">How it is found in the state of the thing.</param>
internal sealed record HubEntity(string Component, HubDevice Device, string Id, string Name, string Template)
{
    /// <summary>The unit; null for none.</summary>
    public string? Unit { get; init; }

    /// <summary>What kind of value it is, in the words of the convention.</summary>
    public string? Class { get; init; }

    /// <summary>Whether it is measured over and over, so that a hub draws it over time.</summary>
    public bool IsMeasured { get; init; }

    /// <summary>Whether the whole state goes along, for whoever wants more than the one value.</summary>
    public bool HasAttributes { get; init; }

    private string Object => $"{Device.Id}-{Id}";

    /// <param name="prefix">Under which topic the hub listens.</param>
    /// <param name="node">Which Chamber this is.</param>
    public string Topic(string prefix, string node) => $"{prefix}/{Component}/{node}/{Object}/config";

    /// <param name="node">Which Chamber this is.</param>
    public JsonObject Describe(string node)
    {
        var config = new JsonObject
        {
            ["name"] = Name,
            ["unique_id"] = $"{node}-{Object}",
            ["state_topic"] = Device.StateTopic,
            ["value_template"] = Template,
            ["availability_topic"] = OwnTopics.State,
            ["device"] = new JsonObject
            {
                ["identifiers"] = new JsonArray($"{node}-{Device.Id}"),
                ["name"] = Device.Name,
                ["model"] = Device.Model,
                ["sw_version"] = ProgramVersion.Text,
            },
        };
        Add(config, "unit_of_measurement", Unit);
        Add(config, "device_class", Class);
        Add(config, "state_class", IsMeasured ? "measurement" : null);
        Add(config, "json_attributes_topic", HasAttributes ? Device.StateTopic : null);
        return config;
    }

    private static void Add(JsonObject config, string key, string? value)
    {
        if (value is not null)
        {
            config[key] = value;
        }
    }
}

/// <summary>A thing that a hub shows: the home, a spot, a batch.</summary>
/// <param name="Kind">home, spot or batch.</param>
/// <param name="Of">Its name.</param>
/// <param name="Name">What people read.</param>
/// <param name="Model">What it is, for people.</param>
internal sealed record HubDevice(string Kind, string Of, string Name, string Model)
{
    /// <summary>In letters that the convention allows in a topic: A to Z, digits, underscore and hyphen. No two names come to the
    /// same.</summary>
    public string Id => $"{Kind}-{Safe(Of)}";

    /// <summary>Where its state stands, retained.</summary>
    public string StateTopic => OwnTopics.HubState(Kind, Of);

    /// <summary>A name in the letters that the convention allows; what it does not is written as its code.</summary>
    public static string Safe(string name) => string.Concat(System.Text.Encoding.UTF8.GetBytes(name).Select(
        letter => char.IsAsciiLetterOrDigit((char)letter) || letter == '-' ? ((char)letter).ToString() : $"_{letter:x2}"));
}
