using Chamber.Club.People;
using Chamber.Club.Sharing;
using Chamber.Club.Store;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.DataProtection.Repositories;
using Microsoft.Extensions.Logging;

namespace Chamber.Club.Pages;

/// <summary>What the front of the club and the sites of its homes share.</summary>
/// <param name="Database">The club's database.</param>
/// <param name="SignIns">Who has signed in.</param>
/// <param name="Members">Who belongs where.</param>
/// <param name="Seal">Seals cookies and forms.</param>
/// <param name="Keys">The keys of that.</param>
/// <param name="Logs">The log of the process.</param>
/// <param name="Time">The clock.</param>
/// <param name="Broker">Where sensors reach the broker, in words.</param>
/// <param name="Tell">Tells the silos that something was written in a home.</param>
/// <param name="Learned">What homes have taught one another.</param>
internal sealed record ClubParts(ClubDatabase Database, SignIns SignIns, Members Members, IDataProtectionProvider Seal,
    IXmlRepository Keys, ILoggerFactory Logs, TimeProvider Time, string Broker, Action<int> Tell, ClubLearned Learned)
{
    /// <summary>By which keys of several clubs and services on one machine are told apart.</summary>
    public const string Name = "chamber-club";
}
