namespace Chamber.Service.Home.Writing;

/// <summary>A line of a notebook of past sowings, as it was typed; null where a cell is empty or its column is not there.</summary>
/// <param name="Line">Its number in the file.</param>
/// <param name="Batch">The name of the batch.</param>
/// <param name="Sown">When it was sown.</param>
/// <param name="Crop">What.</param>
/// <param name="Seeds">How many seeds.</param>
/// <param name="Method">How.</param>
/// <param name="Spot">Where it stood.</param>
/// <param name="Lot">Which lot the seeds came from.</param>
/// <param name="Counted">When somebody looked.</param>
/// <param name="Up">How many were up then, all told.</param>
/// <param name="Note">What else was seen then.</param>
/// <param name="Ended">When the batch was planted out, potted up or given up.</param>
internal sealed record NotebookEntry(
    long Line,
    string? Batch,
    string? Sown = null,
    string? Crop = null,
    string? Seeds = null,
    string? Method = null,
    string? Spot = null,
    string? Lot = null,
    string? Counted = null,
    string? Up = null,
    string? Note = null,
    string? Ended = null);

/// <summary>A line of a notebook that cannot be used.</summary>
/// <param name="Line">Its number in the file.</param>
/// <param name="Why">Why, with the fix.</param>
internal sealed record RefusedNotebookLine(long Line, string Why);

/// <summary>A line of a notebook that is used and looks odd.</summary>
/// <param name="Line">Its number in the file.</param>
/// <param name="What">What is odd.</param>
internal sealed record WarnedNotebookLine(long Line, string What);

/// <summary>What a notebook comes to.</summary>
/// <param name="Batches">How many batches are new.</param>
/// <param name="Counts">How many looks are new.</param>
/// <param name="Known">How much of it was written down already.</param>
/// <param name="Written">How many entries were written down; 0 in a dry run, or when a line was refused.</param>
/// <param name="IsDryRun">Whether nothing was to be written.</param>
/// <param name="Refused">Lines that cannot be used; then nothing was written.</param>
/// <param name="Warned">Lines that are odd and are used all the same.</param>
internal sealed record NotebookSummary(int Batches, int Counts, int Known, int Written, bool IsDryRun,
    IReadOnlyList<RefusedNotebookLine> Refused, IReadOnlyList<WarnedNotebookLine> Warned);
