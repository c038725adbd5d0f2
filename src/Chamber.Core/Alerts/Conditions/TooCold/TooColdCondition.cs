using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;

namespace Chamber.Core.Alerts.Conditions.TooCold;

/// <summary>Progress is lost because a spot lies below the cool limit of what is there.</summary>
internal sealed class TooColdCondition : Condition
{
    public override AlertKind Kind => AlertKind.TooCold;

    public override IReadOnlyList<Limit> Limits => [TooColdLimits.LostHours, TooColdLimits.Margin, TooColdLimits.Clear];

    public override ConditionDocs Docs { get; } = new(
        "until the first are seen up, when 6 h of progress were lost within 24 h to temperatures below the crop's cool limit; an hour "
            + "loses the share 1 - E(T)/E(best); with a limit of your own (chamber limits) after 1 h below that, seed or seedling.",
        "when it is 1 K above the limit for 1 h.")
    {
        Source = "The cool limit is the catalog's: the crop takes twice as long as at its fastest, after the 1954 table (Harrington & "
            + "Minges, Vegetable Seed Germination).",
        More = "Wet media 2 to 8.5 K cooler than the air around it cools itself by evaporating; the alert then says so and "
            + "asks for a cover.",
    };

    public override ConditionWatch At(LocationState location) => new TooColdWatch(this, location);

    public override IReadOnlyList<BatchHarm> HarmOf(OpenAlert alert, LocationState location) =>
        [.. HoldersOf(alert, location).Select(batch => batch.Harm(batch.Losses.ToCold, 0))];

    public override AlertText Words(AlertTeller teller) => new(
        $"Too cold on {teller.Subject}",
        $"{teller.Latest()} there at {teller.LastTime()}, below {teller.ColdLimit()} since {teller.Since()}"
            + (teller.Find(FigureName.HoursLost) > 0 ? $"; {teller.Hours(FigureName.HoursLost)} of progress were lost within 24 h." : "."),
        teller.Harm(),
        teller.Find(FigureName.AirCelsius) is null
            ? "Move it to a warmer spot, or see why this one has cooled: heating off, appliance off, lid off, door open."
            : $"The air around it is {teller.Celsius(FigureName.AirCelsius)}: wet mix in the open cools itself as water "
                + $"evaporates. Cover it.");
}
