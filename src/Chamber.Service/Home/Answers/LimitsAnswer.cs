using Chamber.Core.Climate;
using Chamber.Core.Facts;

namespace Chamber.Service.Home.Answers;

/// <summary>Limits of alerts of one batch or spot, for programs.</summary>
/// <param name="Kind">Batch or spot.</param>
/// <param name="Name">Its name.</param>
/// <param name="TooHot">It is too hot above it; null as the crop has it.</param>
/// <param name="TooCold">It is too cold below it; null as the crop has it.</param>
internal sealed record LimitsAnswer(FactSubjectKind Kind, string Name, Temperature? TooHot, Temperature? TooCold)
{
    public static LimitsAnswer Of(OwnLimits own) => new(own.About.Kind, own.About.Name, Of(own.TooHot), Of(own.TooCold));

    /// <summary>Those of one batch or spot; both null where nobody has chosen any.</summary>
    public static LimitsAnswer Of(HomeReader home, FactSubject about) =>
        Of(home.Ledger.Limits.FirstOrDefault(own => own.About == about) ?? new(about, null, null));

    private static Temperature? Of(double? celsius) => celsius is { } known ? Temperature.FromCelsius(known) : null;
}

/// <summary>A note of a batch or a spot, for programs.</summary>
/// <param name="At">When it was so.</param>
/// <param name="Text">What.</param>
public sealed record NoteAnswer(NodaTime.Instant At, string Text)
{
    internal static IReadOnlyList<NoteAnswer> Of(HomeReader home, FactSubject about) =>
        [.. home.Ledger.Notes.Where(note => note.About == about).Select(note => new NoteAnswer(note.At, note.Text))];
}
