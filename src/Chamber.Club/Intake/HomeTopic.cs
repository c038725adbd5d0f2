using Chamber.Mqtt.Forwarding;

namespace Chamber.Club.Intake;

/// <summary>Under a club's broker each home has its own branch: <c>homes/NAME/</c> and then the topic as at home.</summary>
internal static class HomeTopic
{
    /// <summary>What all intakes of a club subscribe to together, each message going to one of them (MQTT 5, section 4.8.2).</summary>
    public const string SharedFilter = $"$share/chamber-club/{ClubTopics.Branch}+/#";

    /// <summary>Splits a topic into the home's name and the topic as at home.</summary>
    public static bool TrySplit(string topic, out string home, out string atHome)
    {
        (home, atHome) = ("", "");
        if (!topic.StartsWith(ClubTopics.Branch, StringComparison.Ordinal)
            || topic.IndexOf('/', ClubTopics.Branch.Length) is not (> 0 and var slash))
        {
            return false;
        }

        (home, atHome) = (topic[ClubTopics.Branch.Length..slash], topic[(slash + 1)..]);
        return true;
    }
}
