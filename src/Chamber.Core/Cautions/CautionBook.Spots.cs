namespace Chamber.Core.Cautions;

/// <summary>Cautions about warm places, and about what feeds them.</summary>
public static partial class CautionBook
{
    private const CautionMoments AtTheSpot = CautionMoments.SettingUp | CautionMoments.Sowing | CautionMoments.Alert;

    public static Caution HeatMat { get; } = new(
        "heat-mat",
        "Use a heat mat made for seedlings, on its thermostat, never covered or folded; unplug it before you touch it.",
        "Unplug the mat at the wall with dry hands before a hand goes there. Use one made for seedlings, never a heating pad made "
        + "for people. Run it on its thermostat, with the sensor fixed in the mix so that it cannot slip out. Lay it flat on "
        + "something hard that cannot burn, with nothing soft beneath or over it, never folded, and use none that is damaged.",
        AtTheSpot,
        "for every heat mat");

    public static Caution BoilerCupboard { get; } = new(
        "boiler-cupboard",
        "Keep the boiler's clearances and vents free, nothing that burns near it, and a carbon-monoxide alarm in the room.",
        "Keep the maker's clearance around boiler, flue and pipes, leave every vent open, and keep nothing that burns near "
        + "them. Have a carbon-monoxide alarm in the room and test it. Leave the boiler, its cover and its valves to whoever is "
        + "qualified where you live.",
        AtTheSpot,
        "for every boiler cupboard");

    public static Caution ApplianceTop { get; } = new(
        "appliance-top",
        "Never cover an appliance's vents, and let no water reach it; unplug it if it is hotter than usual.",
        "Never cover the vents of an appliance or close the gap behind it. Stand every box in a tray that holds all its water, "
        + "so that none runs into the appliance, its cord or its socket. Put nothing on an appliance that shakes, or that "
        + "somebody cooks on. If it is hotter than usual, unplug it with dry hands and have it looked at.",
        AtTheSpot,
        "for every appliance top");

    public static Caution Electronics { get; } = new(
        "electronics",
        "No water above electronics: stand boxes and towels beside them, in a tray, with the vents free.",
        "Never stand a wet box or towel on or above electronics. Put it beside them in a tray that holds all its water; a towel "
        + "lies in a bag left partly open, with the opening up. Leave the vents free, and unplug with dry hands before you wipe "
        + "up a spill.",
        AtTheSpot,
        "for every spot by electronics");

    public static Caution AquariumSide { get; } = new(
        "aquarium-side",
        "Unplug the tank before a hand or a tray comes near the water.",
        "Unplug heater, pump and lamp at the wall with dry hands before a hand or a tray comes near the water, and mind the "
        + "drip loop of every cord. Let a tank heater cool before it comes out of the water. Keep treated seed, fertiliser and "
        + "mix out of the tank: they can kill what lives in it.",
        AtTheSpot,
        "for every spot beside an aquarium");

    public static Caution Refrigerator { get; } = new(
        "refrigerator",
        "In a refrigerator keep seed closed, labelled and away from food, and no treated seed at all.",
        "Keep damp seed in a closed, labelled box or bag, on a separate shelf, where nobody takes it for food. Keep treated seed, "
        + "and anything that has gone mouldy, out of a refrigerator for food. Let no water run out of it, and keep it from freezing: "
        + "not against the back wall.",
        AtTheSpot,
        "for every spot in a refrigerator");

    public static Caution Radiator { get; } = new(
        "radiator",
        "A radiator can scald: slats and a tray between, and nothing that burns on it.",
        "A radiator can pass 50 °C (120 °F) and scald. Put slats and a tray between it and the box, and nothing that burns on "
        + "it. Cover no electric heater and no thermostat, and let no water drip on either.",
        AtTheSpot,
        "for every spot on a radiator");

    public static Caution Sill { get; } = new(
        "sill",
        "A shut lid in the sun cooks what is under it; stand nothing where it can fall out.",
        "A shut lid in the sun cooks what is under it: open it. Stand nothing where it can fall on people below, and nothing "
        + "that keeps a window that is a way out from opening. Keep bottles and bowls of water out of the sun, since they can "
        + "gather light like a lens and start a fire.",
        AtTheSpot,
        "for every sill");

    public static Caution HighPlaces { get; } = new(
        "high-places",
        "Reach up from a firm step, with both hands free, and put nothing heavy where it can fall.",
        "Reach up from a firm step or ladder, never from a chair, and with both hands free. Wet mix is heavy: fix the shelf to "
        + "the wall, set boxes back from the edge and low enough to look into, and put none above a bed, a cot or a door.",
        AtTheSpot,
        "for every shelf and appliance top");

    public static Caution HotPipes { get; } = new(
        "hot-pipes",
        "Pipes and cylinders in a cupboard can scald: keep hands, boxes and bags off them.",
        "Pipes, cylinders and pumps in a cupboard can be hot enough to scald: keep hands, boxes and plastic off them, and water "
        + "away from cables and boxes with electricity. Leave lagging, valves and wiring to whoever is qualified, and leave room "
        + "to see what you reach for.",
        AtTheSpot,
        "for every cupboard");

    public static Caution WaterAndMains { get; } = new(
        "water-and-mains",
        "Where water is near mains: residual-current protection, drip loops, dry hands.",
        "Wherever water comes near mains electricity (mats, lamps, pumps, appliances) the socket should have residual-current "
        + "protection (RCD, GFCI) that is tested as its maker says. Let each cord hang in a drip loop below its socket, stand "
        + "nothing wet above a plug, and touch plugs with dry hands only. If something got wet, don't touch it until the circuit "
        + "is off.",
        CautionMoments.SettingUp | CautionMoments.Alert,
        "for every spot with electricity near it, and when media is too wet");

    public static Caution ExtensionLeads { get; } = new(
        "extension-leads",
        "One extension lead at most, unrolled and out of the wet, never one plugged into another.",
        "Plug heat and lamps straight into a wall socket where you can. If it must be an extension lead, take one that is rated "
        + "for the load, unroll it fully, cover it with nothing, and keep it and its sockets up out of the wet. Never plug one "
        + "lead or row of sockets into another. A plug or lead that gets warm carries too much: unplug it.",
        CautionMoments.SettingUp,
        "for mats, electronics and lamps");

    public static Caution Lamps { get; } = new(
        "lamps",
        "Hang lamps so that they cannot fall, away from water, from what burns, and out of eyes.",
        "Use lamps made for damp places and hang them so that they cannot fall into water or onto a box, at the maker's "
        + "distance from anything that burns. Keep their cords dry and out of the way of feet and pets. Let a lamp cool before "
        + "you touch it, and don't look into a bright or ultraviolet one; shield its light from children.",
        CautionMoments.SettingUp,
        "for shelves, and for bright spots that are no sill");

    public static Caution Scalds { get; } = new(
        "scalds",
        "Scalded? Cool it under running water at once, then get medical help.",
        "Hot pipes, steam and hot water scald within seconds, children soonest. Feel with the back of the hand before you take "
        + "hold. Cool a scald or burn at once under cool running water for at least ten minutes, and get medical help.",
        CautionMoments.SettingUp | CautionMoments.Alert,
        "for cupboards and radiators, and when it is too hot there");

    public static Caution Unattended { get; } = new(
        "unattended",
        "Away for days? Unplug the heat, or have somebody look in.",
        "Leave no mat, lamp or heater running for days with nobody at home unless its maker says that it may. Chamber watches "
        + "and tells: it switches nothing off, it can be late, and a probe can be wrong. Have somebody look in who knows what to "
        + "unplug, or unplug it yourself and let the seed wait.",
        CautionMoments.SettingUp,
        "for mats, electronics and aquariums");
}
