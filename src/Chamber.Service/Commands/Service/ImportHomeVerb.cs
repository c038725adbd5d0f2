using System.CommandLine;
using Chamber.Core.Facts;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Export;
using Chamber.Service.Home.Writing;

namespace Chamber.Service.Commands.Service;

/// <summary>Reads a whole home in: into an empty one as it was, into another as a part of it.</summary>
internal static class ImportHomeVerb
{
    public static Verb Create()
    {
        var folder = new Argument<string>("folder") { Description = "Where chamber export --all has written it." };
        var called = new Option<string[]>("--called") { HelpName = "KIND:NAME=NEW",
            Description = "Give something of theirs another name here: batch:T1=M1." };
        var same = new Option<string[]>("--same") { HelpName = "KIND:NAME",
            Description = "Treat spots and probes of the same name as the same." };
        return new Verb("import-home", "Imports a whole home into an empty one, or merges its batches, lots and spots into yours.",
            "chamber import-home home", "chamber import-home parents --called batch:T1=M1 --same spot:sill") { folder,
                called, same }
            .Does(async invocation =>
            {
                var parse = invocation.Parse;
                var from = parse.GetValue(folder)!;
                var entries = await WholeHome.ReadFactsAsync(from);
                if (invocation.Store.Facts.Last == 0 || IsBegun(invocation, entries))
                {
                    await TakeOverAsync(invocation, from, entries);
                    return;
                }

                var merge = new HomeMerge(invocation.Store.Facts.Home(), FactLog.Of(entries).Home);
                foreach (var typed in parse.GetValue(called) ?? [])
                {
                    var (what, name) = typed.Split('=', 2) is [var left, var right] ? (left, right) : throw Unclear(typed);
                    merge.Call(About(what), name);
                }

                foreach (var typed in parse.GetValue(same) ?? [])
                {
                    merge.Same(About(typed));
                }

                Ask(invocation, merge);
                await MergeAsync(invocation, from, merge);
            });
    }

    private static async Task TakeOverAsync(Invocation invocation, string folder, IReadOnlyList<FactEntry> entries)
    {
        var log = invocation.Store.Facts.Last == 0 ? invocation.Store.Facts.TakeOver(entries) : FactLog.Of(entries);
        await WholeHome.ReadRestAsync(folder, invocation.Store, invocation.Data);
        WholeHome.ReadPhotos(folder, invocation.Data);
        var readings = await WholeHome.ReadReadingsAsync(folder, invocation.Store, probe => probe);
        invocation.Answer(new { Entries = entries.Count, Readings = readings, LeftOut = log.LeftOut.Count }, screen =>
            screen.Headline($"The home is here: {CountText.Of(entries.Count, "entry", "entries")} and {CountText.Of(readings, "reading")}."));
    }

    // An import that was broken off has left these entries and some of the readings: it goes on where it stopped.
    private static bool IsBegun(Invocation invocation, IReadOnlyList<FactEntry> entries) =>
        entries.Count > 0 && invocation.Store.Facts.Since(0).Take(entries.Count).SequenceEqual(entries);

    // What is written down comes last: until then an import that is broken off has left readings that count for no spot, and is done again.
    private static async Task MergeAsync(Invocation invocation, string folder, HomeMerge merge)
    {
        var facts = merge.Facts();
        _ = invocation.Store.Facts.Home().Apply(facts);
        WholeHome.ReadPhotos(folder, invocation.Data);
        var readings = await WholeHome.ReadReadingsAsync(folder, invocation.Store, merge.NameOf);
        var written = invocation.Pen.By(invocation.Author with { Way = WriteWay.Import }, invocation.Now).Write(facts);
        invocation.Answer(new { Entries = written.Count, Readings = readings }, screen =>
        {
            screen.Headline($"Taken in: {CountText.Of(written.Count, "entry", "entries")} and {CountText.Of(readings, "reading")}.");
            screen.Aside("To take the entries back: chamber undo");
        });
    }

    // Somebody at a terminal is asked; a program is given the option to use.
    private static void Ask(Invocation invocation, HomeMerge merge)
    {
        if (merge.Clashes is not { Count: > 0 } clashes)
        {
            return;
        }

        if (!invocation.CommandContext.IsTyped || !invocation.CommandContext.IsTerminal)
        {
            var names = string.Join(", ", clashes.Select(subject => $"{Choice.Word(subject.Kind)}:{subject.Name}"));
            throw new BadInputException($"Both homes have {names}: say what theirs are called here.")
            {
                Kind = BadInputKind.Contradicts,
                Hint = $"--called {Choice.Word(clashes[0].Kind)}:{clashes[0].Name}=NEW for each; or --same for a spot or probe that is one",
            };
        }

        foreach (var subject in clashes)
        {
            var canBeSame = subject.Kind is FactSubjectKind.Spot or FactSubjectKind.Probe;
            invocation.CommandContext.Out.Write($"Both homes have a {Choice.Word(subject.Kind)} {subject}. What is theirs called here{(canBeSame ? ", or = for the same" : "")}? ");
            var answer = invocation.CommandContext.In.ReadLine()?.Trim() ?? throw new BadInputException("Nothing was taken in.");
            if (answer == "=")
            {
                merge.Same(subject);
            }
            else
            {
                merge.Call(subject, answer);
            }
        }
    }

    private static FactSubject About(string typed) =>
        typed.Split(':', 2) is [var kind, var name] ? new(Choice.Parse<FactSubjectKind>(kind), name) : throw Unclear(typed);

    private static BadInputException Unclear(string typed) =>
        new($"\"{typed}\" is not clear: write --called batch:T1=M1, or --same spot:sill.");
}
