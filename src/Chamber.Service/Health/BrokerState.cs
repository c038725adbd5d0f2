namespace Chamber.Service.Health;

/// <summary>Whether readings can arrive.</summary>
/// <param name="IsConnected">They can.</param>
/// <param name="Fault">Why not; null when they can.</param>
internal readonly record struct BrokerState(bool IsConnected, string? Fault);
