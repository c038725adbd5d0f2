using System.Globalization;
using InfluxDB.Client;
using InfluxDB.Client.Api.Domain;
using InfluxDB.Client.Core.Exceptions;
using Chamber.Service.Configuration;

namespace Chamber.Service.Mirror;

/// <summary>What became of some lines.</summary>
internal enum Receipt
{
    /// <summary>The server has them.</summary>
    Taken,

    /// <summary>At least one of them is not to its liking, and never will be.</summary>
    Refused,

    /// <summary>Too many at once.</summary>
    TooMany,

    /// <summary>Not now: it is away, busy, or doesn't let us in. The same lines again later.</summary>
    Later,
}

/// <summary>The answer to one request.</summary>
/// <param name="Receipt">What became of the lines.</param>
/// <param name="Reason">Why, in words for the operator, with the fix.</param>
/// <param name="After">How long it asked to wait.</param>
internal readonly record struct Answer(Receipt Receipt, string Reason = "", TimeSpan? After = null);

/// <summary>The server, through its own client library. Says of every answer what it means for the lines.</summary>
internal sealed class MirrorServer : IDisposable
{
    private static readonly TimeSpan Timeout = TimeSpan.FromSeconds(30);

    private readonly MirrorSettings settings;
    private readonly InfluxDBClient client;
    private readonly WriteApiAsync writing;

    public MirrorServer(MirrorSettings settings, DataDirectory data)
    {
        this.settings = settings;
        var options = new InfluxDBClientOptions(settings.Url) { Org = settings.Organization, Bucket = settings.Bucket, Timeout = Timeout };
        if (settings.ReadToken(data) is { Length: > 0 } token)
        {
            options.Token = token;
        }

        client = new(options);
        client.EnableGzip();
        writing = client.GetWriteApiAsync();
    }

    public async Task<Answer> SendAsync(IReadOnlyList<string> lines, CancellationToken cancellationToken)
    {
        try
        {
            await writing.WriteRecordsAsync([.. lines], WritePrecision.Ms, settings.Bucket, settings.Organization, cancellationToken);
            return new(Receipt.Taken);
        }
        catch (HttpException problem)
        {
            cancellationToken.ThrowIfCancellationRequested();
            return Meaning(problem);
        }
        catch (Exception problem) when (problem is HttpRequestException or IOException or TimeoutException
            || (problem is OperationCanceledException && !cancellationToken.IsCancellationRequested))
        {
            return new(Receipt.Later, $"{settings.Url} does not answer ({Short(problem.Message)}).");
        }
    }

    public void Dispose() => client.Dispose();

    private Answer Meaning(HttpException problem)
    {
        var status = problem.Status;
        var said = Short(problem.Message);
        return status switch
        {
            400 or 422 => new(Receipt.Refused, said),
            413 => new(Receipt.TooMany, said),
            401 or 403 =>
                new(Receipt.Later, $"{settings.Url} does not let us in ({status}): check mirror.token, and that it may write to the bucket "
                + $"{settings.Bucket}."),
            404 => new(Receipt.Later, $"{settings.Url} knows no bucket {settings.Bucket} of {settings.Organization} (404): check "
                + $"mirror.url, mirror.organization and mirror.bucket."),
            429 => new(Receipt.Later, $"{settings.Url} asks for a pause (429).", After(problem)),
            0 => new(Receipt.Later, $"{settings.Url} does not answer ({said})."),
            _ => new(Receipt.Later, string.Create(CultureInfo.InvariantCulture, $"{settings.Url} is in trouble ({status}: {said})."),
                After(problem)),
        };
    }

    private static TimeSpan? After(HttpException problem) =>
        problem.RetryAfter is > 0 and var seconds ? TimeSpan.FromSeconds(seconds) : null;

    private static string Short(string text)
    {
        var line = text.ReplaceLineEndings(" ").Trim();
        return line.Length <= 300 ? line : line[..300];
    }
}
