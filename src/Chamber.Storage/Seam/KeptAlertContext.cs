using System.Text.Json.Serialization;

namespace Chamber.Storage.Seam;

/// <summary>How the evidence of alerts is read, made while compiling: by reflection each command would compile it again.</summary>
[JsonSourceGenerationOptions(PropertyNameCaseInsensitive = true, UseStringEnumConverter = true)]
[JsonSerializable(typeof(AlertRecords.Kept))]
internal sealed partial class KeptAlertContext : JsonSerializerContext;
