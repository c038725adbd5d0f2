namespace Chamber.Core.Cautions;

/// <summary>Cautions for when something is wrong, and for hands at work.</summary>
public static partial class CautionBook
{
    public static Caution Gas { get; } = new(
        "gas",
        "Smell of gas or exhaust: touch no switch, get everybody out, call from outside.",
        "If you smell gas or exhaust, or a carbon-monoxide alarm sounds: touch no switch or plug, light nothing, get everybody "
        + "out, and call the emergency line from outside. Carbon monoxide has no smell; headache, dizziness, feeling sick and "
        + "tired, worse indoors and better in fresh air, are its signs. Go back in only when whoever is qualified says so.",
        CautionMoments.SettingUp | CautionMoments.Alert,
        "for every boiler cupboard, and when there is danger there");

    public static Caution Fire { get; } = new(
        "fire",
        "Smoke or fire: everybody out first, then call the fire service.",
        "If you see smoke or flames or smell burning: get everybody out first, close the door behind you, and call the fire "
        + "service from outside. Pour no water on anything that may be plugged in.",
        CautionMoments.Alert,
        "when a danger is reported");

    public static Caution PowerCut { get; } = new(
        "power-cut",
        "No power: dry hands, and leave fuse boxes and wiring to whoever is qualified.",
        "If the power is off, touch no plug or socket that may be wet. A breaker or residual-current switch that trips again "
        + "tells of a fault: unplug what hangs on it, leave it off, and call a qualified electrician. Unplug mats and heaters "
        + "before the power comes back, and look at them when it does.",
        CautionMoments.Alert,
        "when no probe is heard");

    public static Caution Batteries { get; } = new(
        "batteries",
        "Keep button cells from children: swallowed, they are an emergency.",
        "Keep batteries, button cells above all, out of reach of children and pets. If one may have been swallowed, call the "
        + "emergency line at once. Put in the kind that the probe's maker names, the right way round, and hand old ones in where "
        + "batteries are taken.",
        CautionMoments.Alert,
        "when a probe is silent, faulty or low on battery");

    public static Caution IceBath { get; } = new(
        "ice-bath",
        "Put under water only a probe made for it, on battery or unplugged from the mains.",
        "Put under water only a probe that is made for it, on battery or unplugged from the mains, never one in an open case. "
        + "If in doubt, set it beside a good thermometer instead.",
        CautionMoments.Calibrating,
        "when a probe is calibrated in ice water");

    public static Caution ChildrenAndPets { get; } = new(
        "children-and-pets",
        "Keep seed, mix, bags and cords out of reach of children and pets.",
        "Keep seed, mix, fertiliser, plastic bags, batteries and cords out of reach of children and pets: seed and small parts "
        + "choke, bags smother, and some seed and leaves are poisonous. If something was swallowed, call your poison information "
        + "line, or the vet, at once and have the packet at hand.",
        CautionMoments.None,
        "at every sowing, and when a spot is set up");

    public static Caution DustyMix { get; } = new(
        "dusty-mix",
        "Damp down dry mix before you stir it; don't breathe its dust, and wash your hands.",
        "Dust of dry mix, perlite and vermiculite harms lungs, and compost can carry germs. Open the bag away from your face "
        + "and in fresh air, damp it down before you stir it, wear a dust mask if it dusts and gloves if your skin is cut, and "
        + "wash your hands. Whoever has weak lungs or weak defences asks a doctor first.",
        CautionMoments.None,
        "when seed is sown in mix");

    public static Caution Mould { get; } = new(
        "mould",
        "Don't breathe mould in; with asthma or weak defences let somebody else clear it.",
        "Don't sniff or blow at mould. Carry what is mouldy out in a closed bag while it is damp, wash the box and your hands, "
        + "and air the room. People with asthma, allergies, lung disease or weak defences leave it to somebody else and ask their "
        + "doctor. Mould on walls or in a cupboard is for whoever looks after the building.",
        CautionMoments.Mould,
        "when mould is recorded in a look or a loss, and then with that batch");
}
