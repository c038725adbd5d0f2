namespace Chamber.Mqtt.Broker;

/// <summary>
/// What the broker keeps for clients: whose a session is, since when nobody has been there, and how much waits for it. A client asks for a
/// session by one bit and need never come back, and one that is there need never read, so that all of it has a bound. Safe for many
/// threads.
/// </summary>
internal sealed class BrokerSessions(BrokerOptions options, TimeProvider clock)
{
    private readonly Lock gate = new();
    private readonly Dictionary<string, Session> sessions = new(StringComparer.Ordinal);
    private long waitingForGone;
    private long waitingForHere;

    /// <summary>Whether a client id stands for a client of another user, and whether that one is connected now.</summary>
    public (bool IsOfOther, bool IsHere) Look(string client, string user)
    {
        lock (gate)
        {
            return sessions.TryGetValue(client, out var known) ? (known.User != user, known.IsHere) : (false, false);
        }
    }

    /// <summary>A client has come: what waited for it is on its way.</summary>
    public void Come(string client, string user)
    {
        lock (gate)
        {
            var known = sessions.GetValueOrDefault(client) ?? new();
            (known.User, known.IsDeleted) = (user, false);
            Connect(known, known.Connections + 1);
            sessions[client] = known;
        }
    }

    /// <summary>Its connection has ended; its session may be kept.</summary>
    public void Leave(string client)
    {
        lock (gate)
        {
            if (sessions.TryGetValue(client, out var known))
            {
                Connect(known, Math.Max(0, known.Connections - 1));
                known.LeftAt = clock.GetUtcNow();
                Drop(client, known);
            }
        }
    }

    /// <summary>Its session is gone.</summary>
    public void Forget(string client)
    {
        lock (gate)
        {
            if (sessions.TryGetValue(client, out var known))
            {
                known.IsDeleted = true;
                Drop(client, known);
            }
        }
    }

    /// <summary>
    /// Whether so many bytes may wait for a client. Those that have gone share one bound. One that is there has its own, and a shared one
    /// that counts only for who has not read what came before: a slow reader takes nothing from a quick one.
    /// </summary>
    public bool MayWait(string client, long bytes)
    {
        lock (gate)
        {
            if (!sessions.TryGetValue(client, out var known))
            {
                return true;
            }

            var fits = !known.IsHere ? waitingForGone + bytes <= options.WaitingBytesMax
                : known.Waiting == 0 || (known.Waiting + bytes <= options.ReaderBytesMax
                    && waitingForHere + bytes <= options.ReadersBytesMax);
            if (fits)
            {
                Wait(known, bytes);
            }

            return fits;
        }
    }

    /// <summary>So many bytes wait for a client no longer: they were sent, or others took their place.</summary>
    public void Sent(string client, long bytes)
    {
        lock (gate)
        {
            if (sessions.TryGetValue(client, out var known))
            {
                Wait(known, -Math.Min(bytes, known.Waiting));
            }
        }
    }

    /// <summary>Those that nobody came back to in time; and if there is no room for one more client, the one left longest ago.</summary>
    public IReadOnlyList<string> Outlived(string coming)
    {
        lock (gate)
        {
            var now = clock.GetUtcNow();
            var left = sessions.Where(session => !session.Value.IsHere).OrderBy(session => session.Value.LeftAt).ToList();
            var over = left.Count(session => now - session.Value.LeftAt > options.SessionKept);
            var isFull = !sessions.ContainsKey(coming) && sessions.Count - over >= options.SessionsMax;
            return [.. left.Take(over + (isFull ? 1 : 0)).Select(session => session.Key)];
        }
    }

    // Its end and that of its connection come in either order.
    private void Drop(string client, Session known)
    {
        if (known is { IsDeleted: true, IsHere: false })
        {
            Wait(known, -known.Waiting);
            sessions.Remove(client);
        }
    }

    private void Wait(Session known, long bytes)
    {
        known.Waiting += bytes;
        (known.IsHere ? ref waitingForHere : ref waitingForGone) += bytes;
    }

    // What waits for it counts among those that are here, or among those that have gone.
    private void Connect(Session known, int connections)
    {
        var waiting = known.Waiting;
        Wait(known, -waiting);
        known.Connections = connections;
        Wait(known, waiting);
    }

    private sealed class Session
    {
        public string User { get; set; } = "";

        /// <summary>One that takes over comes before the other has gone.</summary>
        public int Connections { get; set; }

        public bool IsHere => Connections > 0;

        public bool IsDeleted { get; set; }

        public DateTimeOffset LeftAt { get; set; }

        /// <summary>Bytes that wait for it.</summary>
        public long Waiting { get; set; }
    }
}
