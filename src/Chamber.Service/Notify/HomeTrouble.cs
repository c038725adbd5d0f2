
namespace Chamber.Service.Notify;

/// <summary>What people must be told about the service itself, bypassing the ledger.</summary>
/// <param name="Title">One line.</param>
/// <param name="What">Why, with the fix.</param>
internal sealed record HomeTrouble(string Title, string What);
