namespace Chamber.Service.Home.Writing;

/// <summary>A note about a batch or a spot; nothing is counted.</summary>
/// <param name="Text">What was seen or done.</param>
/// <param name="At">When; now by default.</param>
internal sealed record NoteRequest(string Text, string? At = null);

/// <summary>Limits of alerts for one batch, or for whatever stands on one spot.</summary>
/// <param name="TooHot">It is too hot above it, with its unit: 32C or 90F; null as the crop has it.</param>
/// <param name="TooCold">It is too cold below it; null as the crop has it.</param>
internal sealed record LimitsRequest(string? TooHot = null, string? TooCold = null);
