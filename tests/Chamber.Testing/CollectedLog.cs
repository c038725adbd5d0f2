using Microsoft.Extensions.Logging;

namespace Chamber.Testing;

/// <summary>
/// Takes every log message of what a test runs. At disposal the test fails if an error was logged that it did not expect.
/// </summary>
public sealed class CollectedLog : ILoggerFactory, ILoggerProvider
{
    private readonly Lock gate = new();
    private readonly List<LogLine> lines = [];
    private readonly HashSet<string> expected = [];

    /// <summary>Everything logged so far, in order.</summary>
    public IReadOnlyList<LogLine> Lines
    {
        get
        {
            lock (gate)
            {
                return [.. lines];
            }
        }
    }

    /// <summary>Errors of this event name (the log method's name) belong to what the test provokes.</summary>
    public CollectedLog Expect(string eventName)
    {
        lock (gate)
        {
            expected.Add(eventName);
        }

        return this;
    }

    public ILogger CreateLogger(string categoryName) => new Logger(this, categoryName);

    public ILogger<T> For<T>() => LoggerFactoryExtensions.CreateLogger<T>(this);

    public void AddProvider(ILoggerProvider provider)
    {
        // The collected lines are all that a test reads; another provider has nobody to write to.
    }

    public void Dispose()
    {
        var unexpected = Lines.Where(line => line.Level >= LogLevel.Error && !expected.Contains(line.Event.Name ?? string.Empty)).ToList();
        if (unexpected.Count > 0)
        {
            throw new InvalidOperationException("Errors were logged that the test did not expect:\n" + string.Join('\n', unexpected));
        }
    }

    private sealed class Logger(CollectedLog log, string category) : ILogger
    {
        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => true;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception,
            Func<TState, Exception?, string> formatter)
        {
            var line = new LogLine(logLevel, category, eventId, formatter(state, exception), exception);
            lock (log.gate)
            {
                log.lines.Add(line);
            }
        }
    }
}

/// <summary>One log message.</summary>
public sealed record LogLine(LogLevel Level, string Category, EventId Event, string Message, Exception? Exception)
{
    public override string ToString() => $"{Level} {Category} {Event.Name}: {Message} {Exception}";
}
