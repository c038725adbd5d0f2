using System.CommandLine;
using Chamber.Core.Batches;
using Chamber.Service.Commands.Sowing;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Plots;
using Chamber.Service.Photos;
using Chamber.Service.Reviews;

namespace Chamber.Service.Commands.LookingBack;

/// <summary>Looks back on a batch: who did it, with pictures and a page to keep.</summary>
internal static class ReviewVerb
{
    public static Verb Create()
    {
        var batch = Typed.Argument("batch", "Which batch.", text => new BatchId(text));
        var folder = new Option<string?>("--out") { HelpName = "DIR",
            Description = "Write the pictures (PNG, SVG) and one HTML page into this folder." };
        return new Verb("review", "Answers \"was it the seed, the spot, the water, or me?\", with pictures and a page to keep.",
            "chamber review T3",
            "chamber review T3 --out review") { batch, folder }
            .LooksBack()
            .Does(async invocation =>
            {
                var found = BatchesVerb.Require(invocation, invocation.Parse.GetValue(batch));
                var review = new HomeReviews(invocation.Home, invocation.Now, invocation.Scale).Of(found);
                var files = invocation.Parse.GetValue(folder) is { } named
                    ? Write(review, named, await ReviewPage.OfAsync(review, invocation.Now, new PhotoFiles(invocation.Data))) : [];
                invocation.Answer(ReviewAnswer.Of(review, files), screen =>
                {
                    screen.Headline(review.Diagnosis.Sentence);
                    if (review.Diagnosis.NextTime.Length > 0)
                    {
                        screen.Say($"Next time: {review.Diagnosis.NextTime}");
                    }

                    screen.Say();
                    screen.Facts([.. ReviewWords.Facts(review)]);
                    foreach (var file in files)
                    {
                        screen.Aside(file);
                    }
                });
            });
    }

    private static List<string> Write(BatchReview review, string folder, string page)
    {
        List<string> files = [];
        OutputFiles.Write($"--out {folder}", () =>
        {
            Directory.CreateDirectory(folder);
            foreach (var (name, _, plot) in ReviewPage.Pictures(review))
            {
                var stem = Path.Combine(folder, $"{review.Batch.Id}-{name.ToLowerInvariant()}");
                File.WriteAllBytes(Named(files, stem + ".png"), PlotStyle.Png(plot(), PlotSize.Page));
                File.WriteAllText(Named(files, stem + ".svg"), PlotStyle.Svg(plot(), PlotSize.Page));
                File.WriteAllBytes(Named(files, stem + "-phone.png"), PlotStyle.Png(plot(), PlotSize.Phone));
            }

            File.WriteAllText(Named(files, Path.Combine(folder, $"{review.Batch.Id}.html")), page);
        });
        return files;
    }

    private static string Named(List<string> files, string path)
    {
        files.Add(path);
        return path;
    }
}
