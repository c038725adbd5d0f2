namespace Chamber.Service.Home;

/// <summary>Who keeps a home that has no data file here: its pages stand under an address of theirs, and so do its topics.</summary>
/// <param name="Root">The path of its pages, as <c>/homes/mill-lane-4/</c>.</param>
/// <param name="Branch">What its topics begin with at the broker, as <c>homes/mill-lane-4/</c>.</param>
/// <param name="Broker">Where its sensors reach the broker, as somebody would type it into them.</param>
/// <param name="People">The page on which people, sensors and programs are let in.</param>
/// <param name="Settings">The page on which its time zone, notices and mappings are set.</param>
internal sealed record HomeHost(string Root, string Branch, string Broker, string People, string Settings);
