using System.CommandLine;
using Chamber.Core.Batches;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Writing;
using Chamber.Service.Photos;

namespace Chamber.Service.Commands.Sowing;

/// <summary>Keeps a photo of a batch.</summary>
internal static class PhotoVerb
{
    public static Verb Create()
    {
        var batch = Typed.Argument("batch", "Which batch.", text => new BatchId(text));
        var file = new Argument<string>("file") { Description = "The photo: JPEG, PNG or WebP." };
        var note = new Option<string?>("--note") { HelpName = "TEXT", Description = "What it shows." };
        var when = new Option<string?>("--when") { HelpName = "TIME", Description = "When it was taken. Default: now." };
        return new Verb("photo", "Keeps a photo of a batch; seedlings are counted on it on the page.", "chamber photo T3 tray.jpg",
            "chamber photo T3 tray.jpg --when 07:40 --note \"cover off\"") { batch, file, note, when }
            .Does(invocation =>
            {
                var parse = invocation.Parse;
                var name = parse.GetValue(batch).Text;
                var photo = new HomePhotos(invocation.Home, new PhotoFiles(invocation.Data), invocation.Now)
                    .Take(name, Bytes(parse.GetValue(file)!), parse.GetValue(when), parse.GetValue(note));
                invocation.Answer(photo, screen =>
                {
                    screen.Headline($"{name}: photo of {invocation.Show(photo.At)} kept.");
                    screen.Aside($"Without place and device, in {invocation.Data.Photos}");
                });
            });
    }

    private static byte[] Bytes(string path)
    {
        try
        {
            return new FileInfo(path) is { Exists: true } file && Core.Bounds.PhotoBytes.WhyNot(file.Length) is { } why
                ? throw new BadInputException($"{path}: {why}")
                : File.ReadAllBytes(path);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{path} cannot be read: {FileFault.Of(problem)}", problem);
        }
    }
}
