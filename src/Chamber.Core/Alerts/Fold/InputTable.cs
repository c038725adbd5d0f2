using System.Reflection;

namespace Chamber.Core.Alerts.Fold;

/// <summary>
/// Which conditions take which inputs: a condition takes an input if its watch overrides the method for it. It is the same for every
/// location, so it is worked out once for a set of conditions.
/// </summary>
internal sealed class InputTable(IReadOnlyList<ConditionWatch> watches)
{
    public Takers Heard { get; } = new(watches, nameof(ConditionInputs.Heard));

    public Takers Measured { get; } = new(watches, nameof(ConditionInputs.Measured));

    public Takers HeldBack { get; } = new(watches, nameof(ConditionInputs.HeldBack));

    public Takers BorneOut { get; } = new(watches, nameof(ConditionInputs.BorneOut));

    public Takers Dropped { get; } = new(watches, nameof(ConditionInputs.Dropped));

    public Takers Accepted { get; } = new(watches, nameof(ConditionInputs.Accepted));

    public Takers Followed { get; } = new(watches, nameof(ConditionInputs.Followed));

    public Takers TakenUp { get; } = new(watches, nameof(ConditionInputs.TakenUp));

    public Takers HourEnded { get; } = new(watches, nameof(ConditionInputs.HourEnded));

    public Takers TookHumidity { get; } = new(watches, nameof(ConditionInputs.TookHumidity));

    public Takers TookMoisture { get; } = new(watches, nameof(ConditionInputs.TookMoisture));

    public Takers TookBattery { get; } = new(watches, nameof(ConditionInputs.TookBattery));

    public Takers Advance { get; } = new(watches, nameof(ConditionInputs.Advance));

    public Takers MeetDue { get; } = new(watches, nameof(ConditionInputs.MeetDue));
}

/// <summary>Those that take one input, by their index among the watches of a location.</summary>
internal sealed class Takers(IReadOnlyList<ConditionWatch> watches, string input)
{
    private readonly int[] indices = [.. watches.Index().Where(watch => Takes(watch.Item, input)).Select(watch => watch.Index)];

    public ConditionWatch[] Of(ConditionWatch[] ofLocation) => Array.ConvertAll(indices, index => ofLocation[index]);

    private static bool Takes(ConditionWatch watch, string input)
    {
        var method = watch.GetType().GetMethod(input, BindingFlags.Instance | BindingFlags.Public)
            ?? throw new ArgumentException($"A watch has no input {input}.", nameof(input));
        return method.DeclaringType != typeof(ConditionInputs);
    }
}
