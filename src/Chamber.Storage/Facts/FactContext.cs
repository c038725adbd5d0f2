using System.Text.Json.Serialization;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Alerts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Homes;
using Chamber.Core.Facts.Lots;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using Chamber.Core.Facts.Whole;

namespace Chamber.Storage.Facts;

/// <summary>How each kind of fact is written, made while compiling; a test finds a kind that is missing here.</summary>
[JsonSerializable(typeof(AlertMuted))]
[JsonSerializable(typeof(AlertSeen))]
[JsonSerializable(typeof(BatchEnded))]
[JsonSerializable(typeof(BatchLooked))]
[JsonSerializable(typeof(BatchMoved))]
[JsonSerializable(typeof(BatchRenamed))]
[JsonSerializable(typeof(BatchSown))]
[JsonSerializable(typeof(BatchStood))]
[JsonSerializable(typeof(BatchWetted))]
[JsonSerializable(typeof(CropDropped))]
[JsonSerializable(typeof(CropNoted))]
[JsonSerializable(typeof(LimitsChosen))]
[JsonSerializable(typeof(LotNoted))]
[JsonSerializable(typeof(LotRenamed))]
[JsonSerializable(typeof(LotTested))]
[JsonSerializable(typeof(Noted))]
[JsonSerializable(typeof(PhotoMarked))]
[JsonSerializable(typeof(PhotoTaken))]
[JsonSerializable(typeof(PlantingOutPlanned))]
[JsonSerializable(typeof(PlantsLost))]
[JsonSerializable(typeof(ProbeCalibrated))]
[JsonSerializable(typeof(ProbePlaced))]
[JsonSerializable(typeof(ProbeRenamed))]
[JsonSerializable(typeof(ProbeSetUp))]
[JsonSerializable(typeof(ProbeStood))]
[JsonSerializable(typeof(ProbeTakenAway))]
[JsonSerializable(typeof(ReadingsSetAside))]
[JsonSerializable(typeof(SeedsCounted))]
[JsonSerializable(typeof(SettingChosen))]
[JsonSerializable(typeof(ShownAs))]
[JsonSerializable(typeof(SpotRenamed))]
[JsonSerializable(typeof(SpotSetUp))]
[JsonSerializable(typeof(StageDone))]
[JsonSerializable(typeof(Withdrawn))]
[JsonSerializable(typeof(WorkEnded))]
[JsonSerializable(typeof(WorkPlanned))]
internal sealed partial class FactContext : JsonSerializerContext;
