using Chamber.Core.Alerts.Fold;
using Chamber.Core.Spots;

namespace Chamber.Core.Alerts.Conditions.Drifting;

/// <summary>A spot has moved away from what is usual for it at this hour.</summary>
internal sealed class DriftingCondition : Condition
{
    public override AlertKind Kind => AlertKind.Drifting;

    public override ConditionDocs Docs { get; } = new(
        "a spot lies off what it usually does at these hours when the rest of the home does what it does: a step of 1 K or more that has "
            + "lasted 12 h; or a day that differs by 1 K from the one before, for 4 h on end; or what creeps, by a CUSUM, with the last 24 "
            + "h off by 1 K on the mean.",
        "12 h within 0.5 K; after 5 days the new level is the usual.")
    {
        Source = "Aim: 1.5 K found within 48 h. How it is found: [arithmetic](arithmetic.md); how often for nothing: below.",
        More = "For each batch on the spot that is not up yet the alert says how much later it comes up by the hours so far, against the "
            + "usual course, and what share of its seed it stands to lose if it stays as in the last day.",
    };

    public override ConditionWatch At(LocationState location) => new DriftingWatch(this, location);

    public override HandCautions Cautions(Alert alert, Spot? spot) =>
        alert.Subject == AlertSubject.Home ? HandCautions.None : HandCautions.OfSpot;

    public override AlertText Words(AlertTeller teller)
    {
        var warmer = (teller.Find(FigureName.ShiftKelvins) ?? 0) > 0 ? "warmer" : "cooler";
        return teller.Alert.Subject == AlertSubject.Home
            ? new(
                $"The home is {teller.Kelvins(FigureName.ShiftKelvins)} {warmer} than usual",
                $"{teller.Number(FigureName.Count)} spots moved together, since about {teller.Since()}.",
                "", "Heating, weather or an open window, rather than any one spot. Expect other days to come up.")
            : new(
                $"{teller.Subject} is {teller.Kelvins(FigureName.ShiftKelvins)} {warmer} than usual",
                $"Since about {teller.Since()} it has kept off what is usual there at each hour; the last hour was {teller.Latest()} where "
                    + $"{teller.Celsius(FigureName.UsualCelsius)} is usual.",
                $"{teller.Harm()} Forecasts for what stands there rest on the old course until the new one is known.".TrimStart(),
                "See what changed: an appliance, a lid, a door, a thermostat, or where the probe lies. If it is to stay so, "
                    + "survey it again.");
    }
}
