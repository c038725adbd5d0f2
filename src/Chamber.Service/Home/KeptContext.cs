using System.Text.Json.Serialization;

namespace Chamber.Service.Home;

/// <summary>How what is kept beside the facts is read, made while compiling: by reflection each command would compile it again.</summary>
[JsonSourceGenerationOptions(PropertyNameCaseInsensitive = true, UseStringEnumConverter = true)]
[JsonSerializable(typeof(PlanSheet))]
internal sealed partial class KeptContext : JsonSerializerContext;
