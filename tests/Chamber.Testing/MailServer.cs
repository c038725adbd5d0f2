using System.Buffers;
using System.Net;
using System.Security.Cryptography.X509Certificates;
using System.Threading.Channels;
using MimeKit;
using SmtpServer;
using SmtpServer.Authentication;
using SmtpServer.ComponentModel;
using SmtpServer.Protocol;
using SmtpServer.Storage;

namespace Chamber.Testing;

/// <summary>A real SMTP server on a free port of the loopback that keeps the mails it takes.</summary>
public sealed class MailServer : MessageStore, IAsyncDisposable
{
    private readonly CancellationTokenSource stop = new();
    private Task running = Task.CompletedTask;

    public int Port { get; private set; }

    public List<MimeMessage> Mails { get; } = [];

    private readonly Channel<MimeMessage> arrived = Channel.CreateUnbounded<MimeMessage>();

    /// <summary>The next mail that was not waited for yet.</summary>
    public async Task<MimeMessage> Next() => await Wait.For("a mail", arrived.Reader.ReadAsync().AsTask());

    public SmtpResponse Reply { get; set; } = SmtpResponse.Ok;

    public static MailServer Start(string? password = null, X509Certificate2? certificate = null)
    {
        var server = new MailServer { Port = FreePort.Next() };
        var options = new SmtpServerOptionsBuilder()
            .ServerName("mail.test")
            .Endpoint(endpoint =>
            {
                endpoint.Endpoint(new(IPAddress.Loopback, server.Port));
                if (certificate is not null)
                {
                    endpoint.Certificate(certificate).IsSecure(true);
                }

                if (password is not null)
                {
                    endpoint.AuthenticationRequired().AllowUnsecureAuthentication();
                }
            })
            .Build();
        var services = new ServiceProvider();
        services.Add((IMessageStore)server);
        services.Add((IUserAuthenticator)new DelegatingUserAuthenticator((_, given) => given == password));
        server.running = new SmtpServer.SmtpServer(options, services).StartAsync(server.stop.Token);
        return server;
    }

    public override async Task<SmtpResponse> SaveAsync(
        ISessionContext context, IMessageTransaction transaction, ReadOnlySequence<byte> buffer, CancellationToken cancellationToken)
    {
        if (Reply == SmtpResponse.Ok)
        {
            using var stream = new MemoryStream(buffer.ToArray());
            var mail = await MimeMessage.LoadAsync(stream, cancellationToken);
            Mails.Add(mail);
            await arrived.Writer.WriteAsync(mail, cancellationToken);
        }

        return Reply;
    }

    public async ValueTask DisposeAsync()
    {
        await stop.CancelAsync();
        await running;
        stop.Dispose();
    }
}
