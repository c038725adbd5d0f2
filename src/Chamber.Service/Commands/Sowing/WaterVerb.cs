using System.CommandLine;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Home.Writing;

namespace Chamber.Service.Commands.Sowing;

/// <summary>Records that a batch, or all that stands on a spot, was watered, without a count.</summary>
internal static class WaterVerb
{
    public static Verb Create()
    {
        var what = new Argument<string>("batch-or-spot") { Description = "Which batch, or the spot of all that you watered." };
        var when = new Option<string?>("--when") { HelpName = "TIME", Description = "When it happened. Default: now." };
        return new Verb("water", "Records that you watered a batch, or all that stands on a spot; nothing is counted.", "chamber water T3",
            "chamber water shelf --when 07:40") { what, when }
            .Does(invocation =>
            {
                var upkeep = new HomeUpkeep(invocation.Writing, invocation.Now);
                var (batches, at) = upkeep.Water(upkeep.Find(invocation.Parse.GetValue(what)!), new(invocation.Parse.GetValue(when)));
                invocation.Answer(new { Batches = batches, At = at },
                    screen => screen.Headline($"{string.Join(", ", batches)}: watered {invocation.Show(at)}."));
            });
    }
}

/// <summary>Keeps a note about a batch or a spot, without a count.</summary>
internal static class NoteVerb
{
    public static Verb Create()
    {
        var what = new Argument<string>("batch-or-spot") { Description = "Which batch or which spot." };
        var text = new Argument<string>("text") { Description = "What you saw or did, in quotes." };
        var when = new Option<string?>("--when") { HelpName = "TIME", Description = "When it was so. Default: now." };
        return new Verb("note", "Keeps a note about a batch or a spot; nothing is counted.", "chamber note T3 \"moved to the back\"",
            "chamber note sill \"window left open\" --when yesterday") { what, text, when }
            .Does(invocation =>
            {
                var upkeep = new HomeUpkeep(invocation.Writing, invocation.Now);
                var note = upkeep.Note(upkeep.Find(invocation.Parse.GetValue(what)!),
                    new(invocation.Parse.GetValue(text)!, invocation.Parse.GetValue(when)));
                invocation.Answer(new { note.About.Kind, note.About.Name, note.At, note.Text },
                    Home.HomeCautions.OfRecord(Core.Cautions.CautionRules.SpeaksOfMould(note.Text)), screen =>
                    {
                        screen.Headline($"{note.About}: noted for {invocation.Show(note.At)}.");
                        screen.Aside($"All that is recorded of it: chamber history {Choice.Word(note.About.Kind)} {note.About}");
                    });
            });
    }
}
