using System.CommandLine;
using Chamber.Club.Notices;
using Chamber.Service.Configuration;
using MimeKit;

namespace Chamber.Club.Commands;

/// <summary>The options that name the club's mail server.</summary>
internal sealed class MailOptions
{
    private readonly Option<string?> host = new("--mail-host")
    {
        HelpName = "HOST",
        Description = "The mail server by which homes are notified; without one nobody is.",
    };

    private readonly Option<int> port = new Option<int>("--mail-port")
    {
        HelpName = "PORT",
        Description = "1 to 65535.",
        DefaultValueFactory = _ => 587,
    }.Within(1, 65535);

    private readonly Option<MailSecurity> security = new("--mail-security")
    {
        HelpName = "HOW",
        Description = "StartTls, Tls, or WhenOffered for a server on this machine.",
        DefaultValueFactory = _ => MailSecurity.StartTls,
    };

    private readonly Option<string?> user = new("--mail-user") { HelpName = "NAME", Description = "With --mail-password-file." };
    private readonly Option<string?> password = new("--mail-password-file")
    {
        HelpName = "FILE",
        Description = "Holds nothing but the password.",
    };

    private readonly Option<string?> from = new("--mail-from") { HelpName = "MAIL", Description = "Whose address notices bear." };
    private readonly Option<string?> link = new("--page-link")
    {
        HelpName = "URL",
        Description = "Where members reach the pages, such as https://club.example.",
    };

    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[host, port, security, user, password, from, link])
        {
            command.Options.Add(option);
        }
    }

    /// <summary>What was given; null without a server.</summary>
    /// <exception cref="FormatException">It is not whole.</exception>
    public ClubMail? Of(ParseResult parsed)
    {
        if (parsed.GetValue(host) is not { } server)
        {
            return null;
        }

        if (!MailboxAddress.TryParse(parsed.GetValue(from) ?? "", out _))
        {
            throw new FormatException("--mail-from: write whose address notices bear, such as club@example.org.");
        }

        if (parsed.GetValue(link) is { } page && !Uri.TryCreate(page, UriKind.Absolute, out _))
        {
            throw new FormatException("--page-link: write where members reach the pages, such as https://club.example.");
        }

        return new(
            new()
            {
                Host = server, Port = parsed.GetValue(port), Security = parsed.GetValue(security), User = parsed.GetValue(user),
                Password = parsed.GetValue(password) is { } file ? File.ReadAllText(file).TrimEnd('\r', '\n') : null,
                From = parsed.GetValue(from)!,
            },
            parsed.GetValue(link)?.TrimEnd('/'));
    }
}
