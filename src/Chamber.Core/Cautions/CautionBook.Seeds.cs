namespace Chamber.Core.Cautions;

/// <summary>Cautions about seed.</summary>
public static partial class CautionBook
{
    public static Caution TreatedSeed { get; } = new(
        "treated-seed",
        "Treated seed: gloves, straight into mix, no towel; not food, and away from children and pets.",
        "Treated seed: wear gloves, sow it as it is and straight into mix, wash your hands, and follow its label. Don't soak, "
        + "nick or crush it, and lay none on a towel. It is not for food, feed or oil, and no sprout of it is for eating. Keep it "
        + "from children, pets and birds, breathe none of its dust, and get rid of what is left as the label says.",
        CautionMoments.KeepingSeed | CautionMoments.Sowing | CautionMoments.Alert,
        "for every lot that is treated")
    {
        Source = "Minnesota Dept. of Agriculture, \"Treated Seed\"; the label of the lot says the same or more",
    };

    public static Caution PoisonUnknown { get; } = new(
        "poison-unknown",
        "Nobody has said whether this crop of yours is poisonous: treat it as if it were.",
        "This is your own crop, and nobody has said whether its seed or leaf is poisonous. Look it up by its botanical "
        + "name, ask your poison information line or extension service, and write the answer down (on the page under Set up, "
        + "Crops). Until then treat it as poisonous to people and pets.",
        CautionMoments.Sowing | CautionMoments.KeepingSeed,
        "for your own crop until the question is answered");

    public static Caution PlantingSeed { get; } = new(
        "planting-seed",
        "Planting seed is not food seed: eat none of it, and nothing from a test.",
        "Seed for planting is not food: it may be treated, and nobody kept it clean for eating. Eat nothing from a germination "
        + "test. Sprouts for eating are another matter, with seed sold for that with its own rules of hygiene, because warm and "
        + "damp is what germs of food poisoning like.",
        CautionMoments.None,
        "when seed is sown on a towel, and with every test");

    public static Caution HardSeed { get; } = new(
        "hard-seed",
        "Nick or file hard seed in pliers or a clamp, never between your fingers.",
        "Hold hard seed in pliers or a clamp to nick or file it, never between your fingers under a blade. Cut away from "
        + "yourself, protect your eyes, and let no child do it alone. Go no deeper than the coat.",
        CautionMoments.Sowing,
        "for a crop whose seed is nicked, filed or crushed before sowing");

    public static Caution NotCovered { get; } = new(
        "not-covered",
        "Bleach, peroxide, hot water, ovens and growth substances are not covered: label and maker decide.",
        "Chamber says nothing of bleach, peroxide, hot-water treatment, oven or microwave, and growth substances: the label and "
        + "the maker decide.",
        CautionMoments.None,
        "when a treatment of the seed is recorded, and when seed is soaked, nicked or chilled");

    public static Caution DryingSeed { get; } = new(
        "drying-seed",
        "Dry saved seed gently before you seal it, never in a hot oven or a microwave.",
        "Dry saved seed to under 8 % moisture before it is sealed: in thin layers at no more than 38 °C (100 °F), never in a "
        + "microwave or a hot oven. A dry bean shatters, a damp one dents.",
        CautionMoments.KeepingSeed,
        "for every lot saved at home")
    {
        Source = "Colorado State University Extension, \"Long Term Storage of Vegetable Seed\", 1997",
    };

    public static Caution FreezingSeed { get; } = new(
        "freezing-seed",
        "Freeze only dry, sealed seed, and let the jar warm up before you open it.",
        "Freeze only dry, sealed seed: frost kills damp seed. Let the sealed jar come to room temperature before you open it.",
        CautionMoments.KeepingSeed,
        "for every lot kept in a freezer")
    {
        Source = "Colorado State University Extension, \"Long Term Storage of Vegetable Seed\", 1997",
    };
}
