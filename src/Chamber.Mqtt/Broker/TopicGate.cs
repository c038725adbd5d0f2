using System.Collections;
using Chamber.Mqtt.Listening;
using Microsoft.Extensions.Logging;
using MQTTnet.Protocol;
using MQTTnet.Server;

namespace Chamber.Mqtt.Broker;

/// <summary>Which topics a client of the built-in broker may write and read: by its account, and by what a topic may be at all.</summary>
internal sealed class TopicGate(BrokerOptions options, UserFile users, BrokerMetrics metrics, ILogger logger)
{
    /// <summary>Whoever came in by an address that demands no password.</summary>
    public const string NoAccount = "";

    private const string SubscriptionsKey = "subscriptions";
    private const string AccountKey = "account";

    private readonly FirstHeard forbidden = new();

    /// <summary>Whose a session is; null for nobody that was let in.</summary>
    public static string? AccountOf(IDictionary session) => session[AccountKey] as string;

    public static void SetAccount(IDictionary session, string account) => session[AccountKey] = account;

    public static void Unsubscribe(IDictionary session, string filter) => Subscriptions(session).Remove(filter);

    /// <summary>Takes a subscription in, or refuses it.</summary>
    public void Subscribe(InterceptingSubscriptionEventArgs arguments)
    {
        var filter = arguments.TopicFilter.Topic;
        var subscriptions = Subscriptions(arguments.SessionItems);
        if (!RightsOf(arguments.SessionItems).MayRead(filter))
        {
            Forbid(AccountOf(arguments.SessionItems), "read", filter);
            Refuse(MqttSubscribeReasonCode.NotAuthorized);
        }
        else if (subscriptions.Count >= options.SubscriptionsMax && !subscriptions.Contains(filter))
        {
            metrics.Count("subscriptions");
            Refuse(MqttSubscribeReasonCode.QuotaExceeded);
        }
        else
        {
            subscriptions.Add(filter);
        }

        void Refuse(MqttSubscribeReasonCode code)
        {
            arguments.ProcessSubscription = false;
            arguments.Response.ReasonCode = code;
        }
    }

    /// <summary>Why a message is not taken; null when it is.</summary>
    public MqttPubAckReasonCode? WhyNot(InterceptingPublishEventArgs arguments)
    {
        var topic = arguments.ApplicationMessage.Topic;
        if (!CanBe(topic, options.TopicLengthMax))
        {
            metrics.Count("topic");
            return MqttPubAckReasonCode.TopicNameInvalid;
        }

        if (OwnTopics.IsOwn(topic))
        {
            return MqttPubAckReasonCode.NotAuthorized;
        }

        if (RightsOf(arguments.SessionItems).MayWrite(topic))
        {
            return null;
        }

        Forbid(AccountOf(arguments.SessionItems), "write", topic);
        return MqttPubAckReasonCode.NotAuthorized;
    }

    /// <summary>Whether a message may have such a topic. MQTT 5.0, section 4.7: nobody publishes to a wildcard; and what begins with $ is
    /// the broker's own.</summary>
    internal static bool CanBe(string topic, int lengthMax) => topic.Length > 0 && topic.Length <= lengthMax && topic[0] != '$'
        && topic.IndexOfAny(['+', '#']) < 0 && !topic.Any(char.IsControl);

    private AccountRights RightsOf(IDictionary session) => AccountOf(session) switch
    {
        null => AccountRights.None,
        NoAccount => AccountRights.All,
        var account => users.RightsOf(account),
    };

    private void Forbid(string? account, string what, string topic)
    {
        metrics.Count("rights");
        if (forbidden.IsNew($"{account} {what} {topic}"))
        {
            Log.TopicForbidden(logger, account ?? "", what, StrangerText.Of(topic));
        }
    }

    private static HashSet<string> Subscriptions(IDictionary session)
    {
        if (session[SubscriptionsKey] is HashSet<string> known)
        {
            return known;
        }

        var subscriptions = new HashSet<string>(StringComparer.Ordinal);
        session[SubscriptionsKey] = subscriptions;
        return subscriptions;
    }
}
