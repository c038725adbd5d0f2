using Chamber.Core.Batches;
using Chamber.Core.Diagnosis;

namespace Chamber.Core.Alerts;

/// <summary>The conditions beyond heat, cold and silence.</summary>
public static partial class AlertWords
{
    private static AlertText Swinging(Teller teller) => new(
        $"Large swings on {teller.Subject}",
        $"Within 24 h it went from {teller.Celsius(FigureName.LowestCelsius)} to {teller.Worst()}, beyond the limits of what stands there on both sides.",
        teller.Harm(),
        "A closed box, a deeper layer of mix or a lid evens it out; or move it to a steadier spot. A swing within the limits would do no harm.",
        "");

    private static AlertText Drifting(Teller teller)
    {
        var warmer = (teller.Alert.Evidence.Find(FigureName.ShiftKelvins) ?? 0) > 0 ? "warmer" : "cooler";
        return teller.Alert.Subject == AlertSubject.Home
            ? new(
                $"The home is {teller.Kelvins(FigureName.ShiftKelvins)} {warmer} than usual",
                $"{teller.Number(FigureName.Count)} spots moved together, since about {teller.Since()}.",
                "", "Heating, weather or an open window, rather than any one spot. Expect other days to come up.", "")
            : new(
                $"{teller.Subject} is {teller.Kelvins(FigureName.ShiftKelvins)} {warmer} than usual",
                $"Since about {teller.Since()} it has kept off what is usual there at each hour; the last hour was {teller.Latest()} where {teller.Celsius(FigureName.UsualCelsius)} is usual.",
                $"{teller.Harm()} Forecasts for what stands there rest on the old course until the new one is known.".TrimStart(),
                "See what changed: an appliance, a lid, a door, a thermostat, or where the probe lies. If it is to stay so, survey it again.",
                "");
    }

    private static AlertText SurveyStale(Teller teller) => new(
        $"The survey of {teller.Subject} no longer holds",
        $"About {teller.Since()} the mean of a day came to lie well off the {teller.Celsius(FigureName.UsualCelsius)} of the survey; that of the last day was {teller.Latest()}.",
        "How well it suits a crop is judged by a course that it no longer has.",
        "Survey it again for seven days, three at the least.",
        "");

    private static AlertText ProbesDisagree(Teller teller) => new(
        $"Probes on {teller.Subject} no longer agree",
        $"{teller.Alert.Evidence.Probe?.Text ?? "One"} has moved by {teller.Kelvins(FigureName.ShiftKelvins)} since about {teller.Since()}, and the other has not.",
        "",
        "It is the probe rather than the spot: has it slipped out, got wet, or is its battery low? Put the two side by side for a night and compare.",
        "");

    private static AlertText TooWet(Teller teller) => new(
        $"Too wet on {teller.Subject}",
        $"It has been at {teller.Number(FigureName.Percent)} % of its saturated reading, over {teller.Number(FigureName.LimitPercent)} %, since {teller.Since()}.",
        "Seed that lies in water cannot breathe and rots.",
        "Pour off what stands, wring the towel until it no longer drips, or let the mix drain: pressed between two fingers no film of water should form.",
        "");

    private static AlertText DryingOut(Teller teller) => new(
        $"Drying out on {teller.Subject}",
        teller.Alert.Severity == Severity.Note
            ? $"The air under the cover fell to {teller.Number(FigureName.Percent)} % from near saturation, since {teller.Since()}{teller.DewPointGap()}: the cover leaks or the media dries."
            : $"It is at {teller.Number(FigureName.Percent)} % of its saturated reading, under {teller.Number(FigureName.LimitPercent)} %, since {teller.Since()}.",
        "Seed that has drunk and dries again may die.",
        "Wet it now with water at room temperature, and shut the cover.",
        "");

    private static AlertText CoverShut(Teller teller) => teller.MethodIs(SowingMethod.DampTowel)
        ? new(
            $"{teller.Subject}: roots are out in the towel",
            $"They were seen at {teller.Since()}; {teller.Hours(FigureName.Hours)} later it was not written down that they were planted up.",
            "Roots grow into the towel and break when it is opened late.",
            "Plant them up now: root down, 5 to 10 mm deep, kept warm until the shoot shows.",
            "")
        : new(
            $"{teller.Subject}: the cover is still on",
            $"The first were up at {teller.Since()}; {teller.Hours(FigureName.Hours)} later it was not written down that it is off.",
            "In still, wet air seedlings fall over at the foot.",
            "Take the cover off, and write that down.",
            "");

    private static AlertText WarmAndDark(Teller teller) => new(
        $"{teller.Subject} is up, in the warm and dark",
        $"{teller.Number(FigureName.Up)} were up at the last look; since {teller.Since()} they have had {teller.Hours(FigureName.Hours)} of warmth without light.",
        "Seedlings grow long and pale within a day or two, and most never mend.",
        $"Move them to the brightest place at {teller.Band(18, 21)} today.",
        "");

    private static AlertText FaultyProbe(Teller teller)
    {
        var (what, todo) = teller.Alert.Evidence.Fault switch
        {
            ProbeFault.Sentinel => ("It sends the code by which it says that it measured nothing.", "Check its wiring and battery; a probe that does so at power-on is read too early."),
            ProbeFault.Spike => ("It says lone wild values between ordinary ones.", "Check plugs, leads and battery. Those values are kept and not used."),
            ProbeFault.FlatLine => ("It has said the same to the last digit for far too long.", "Warm it in the hand: if it does not move, restart or replace it."),
            ProbeFault.ImpossibleRate => ("It jumps faster than wet media can.", "See whether it slipped out of the media, or sits by a heater or its own electronics."),
            ProbeFault.OtherUnit => ("Its values fit the other unit of temperature.", "Set its unit, °C or °F, in the configuration. It is never guessed."),
            ProbeFault.SaturatedHumidity => ("Its humidity stays at the upper end in air that is known to be open: the sensor is wet or worn.", "Let it dry in warm, dry air for a day. Until then its humidity tells no more than that."),
            _ => ("It says values that no place in a home has.", "Check its unit and payload mapping; replace it if it goes on."),
        };
        return new($"{teller.Subject} is faulty", $"{what} First at {teller.Since()}.", "What it says wrongly is not used; what it measures meanwhile is not known.", todo, "");
    }

    private static AlertText WeakBattery(Teller teller) => new(
        $"Battery of {teller.Subject} at {teller.Number(FigureName.Percent)} %",
        $"Low since {teller.Since()}.",
        "Readings get worse before they stop.",
        "Change it soon, and compare the probe with another afterwards.",
        "");

    private static AlertText ClockWrong(Teller teller) => new(
        $"The clock of {teller.Subject} is wrong",
        $"Its messages carry times that cannot be, first at {teller.Since()}. The time of arrival is used instead.",
        "",
        "Set its clock and zone, or have it send no time at all.",
        "");

    private static AlertText StopWaiting(Teller teller)
    {
        return new(
            $"{teller.Subject}: no more are likely to come",
            $"{teller.Number(FigureName.Up)} are up; since {teller.Since()} the chance of even one more is under {teller.Share(FigureName.Chance)}.",
            teller.Alert.Evidence.Why is { } why ? DiagnosisWords.Why(why) : "",
            DiagnosisWords.WhenDue(teller.Alert.Evidence.Why ?? CauseKind.Late),
            "");
    }

    private static AlertText LookNow(Teller teller) => new(
        $"Look at {teller.Subject}",
        $"The chance that the first is up is {teller.Share(FigureName.Chance)}.",
        "",
        "Look, count, and write it down, also when there is nothing yet: without looks nothing can be learnt.",
        "");
}
