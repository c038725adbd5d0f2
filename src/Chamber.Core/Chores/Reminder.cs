using Chamber.Core.Batches;
using NodaTime;

namespace Chamber.Core.Chores;

/// <summary>What a batch needs a hand for.</summary>
public enum ReminderKind
{
    Look,
    ToTheLight,
    PlantFromTowel,
    PrickOut,
    HardenOff,
    PlantOut,
    CallTest,

    /// <summary>Into the cold, for a chill that it needs and has not had.</summary>
    Chill,

    /// <summary>Out of the cold: it has had its chill.</summary>
    EndChill,
    StopWaiting,
}

/// <summary>Something to do, with the days on which to do it.</summary>
/// <param name="Batch">For which batch.</param>
/// <param name="Kind">What; with the batch it names the reminder, so a moved forecast moves the entry instead of adding one.</param>
/// <param name="From">The first day.</param>
/// <param name="To">The last good day.</param>
/// <param name="Words">What to do and why, in a sentence or two.</param>
public sealed record Reminder(BatchId Batch, ReminderKind Kind, LocalDate From, LocalDate To, string Words);
