using System.Text.Json.Serialization;

namespace Chamber.Service.Configuration;

/// <summary>How chamber.json and crops of one's own are read, made while compiling: by reflection it took a tenth of a second of every
/// command.</summary>
/// <remarks>Settings are <c>set</c> and not <c>init</c>, since what is made here would overwrite the default of whatever a file leaves out
/// (System.Text.Json 10).</remarks>
[JsonSerializable(typeof(Settings))]
[JsonSerializable(typeof(CropNumbers))]
[JsonSerializable(typeof(Dictionary<string, CropNumbers>))]
internal sealed partial class SettingsContext : JsonSerializerContext;
