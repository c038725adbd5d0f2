using Chamber.Storage.Files;
namespace Chamber.Storage;
public sealed class Ledger { internal Ledger(Database database) { _ = database; } }
