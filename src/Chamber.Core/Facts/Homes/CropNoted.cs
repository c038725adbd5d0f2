using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Core.Facts.Homes;

/// <summary>A crop of one's own was added or changed.</summary>
/// <param name="Crop">Its name.</param>
/// <param name="Profile">Its numbers with their sources, as JSON.</param>
public sealed record CropNoted(CropId Crop, string Profile) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Crop)];

    public override string Words(ShownNames names) => $"crop {Crop} of one's own";

    internal override void Apply(HomeFold home, Instant at) => home.Crops[Crop] = Profile;
}

/// <summary>A crop of one's own is no longer wanted.</summary>
/// <param name="Crop">Its name.</param>
public sealed record CropDropped(CropId Crop) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Crop)];

    public override string Words(ShownNames names) => $"crop {Crop} dropped";

    internal override void Apply(HomeFold home, Instant at) =>
        FactRefusedException.When(!home.Crops.Remove(Crop), $"There is no crop \"{Crop}\" of your own.");
}

/// <summary>Something was chosen for the home that shapes its answers.</summary>
/// <param name="Name">What, by its name.</param>
/// <param name="Value">What was chosen; null takes it back to what is usual.</param>
public sealed record SettingChosen(string Name, string? Value = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Home];

    public override string Words(ShownNames names) =>
        $"{Name.Replace('-', ' ')} {(Value is null ? "as usual" : "changed")}";

    internal override void Apply(HomeFold home, Instant at)
    {
        if (Value is null)
        {
            home.Settings.Remove(Name);
        }
        else
        {
            home.Settings[Name] = Value;
        }
    }
}
