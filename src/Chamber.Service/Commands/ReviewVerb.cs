using System.CommandLine;
using Chamber.Core.Batches;
using Chamber.Core.Diagnosis;
using Chamber.Service.Home;
using Chamber.Service.Plots;
using Chamber.Service.Reviews;
using NodaTime;

namespace Chamber.Service.Commands;

/// <summary>Looks back on a batch: whose doing it was, with pictures and a page to keep.</summary>
internal static class ReviewVerb
{
    public static Verb Create()
    {
        var batch = Typed.Argument("batch", "Which batch.", text => new BatchId(text));
        var folder = new Option<string?>("--out") { HelpName = "DIR", Description = "Writes the pictures (PNG, SVG) and one HTML page into this folder." };
        return new Verb("review", "Was it the seed, the spot, the water, or me? With pictures and a page to keep.", "chamber review T3", "chamber review T3 --out review") { batch, folder }
            .Does(invocation =>
            {
                var found = BatchesVerb.Require(invocation, invocation.Parse.GetValue(batch));
                var review = new HomeReviews(invocation.Home, invocation.Now, invocation.Scale).Of(found);
                var files = invocation.Parse.GetValue(folder) is { } named ? Write(review, named, invocation.Now) : [];
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

    private static List<string> Write(BatchReview review, string folder, Instant now)
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

            File.WriteAllText(Named(files, Path.Combine(folder, $"{review.Batch.Id}.html")), ReviewPage.Of(review, now));
        });
        return files;
    }

    private static string Named(List<string> files, string path)
    {
        files.Add(path);
        return path;
    }
}

/// <summary>A review for programs.</summary>
internal sealed record ReviewAnswer(
    BatchId Batch,
    Blame Blame,
    string Verdict,
    string NextTime,
    CauseKind Cause,
    double Lost,
    IReadOnlyList<LossPartAnswer> Losses,
    int Up,
    int Seeds,
    double Expected,
    double? FirstAfterDays,
    double? FirstByDays,
    double? ForecastLow,
    double? ForecastHigh,
    double HoursBelow,
    double HoursAbove,
    double UnknownHours,
    double WarmDarkHours,
    IReadOnlyList<string> Files)
{
    public static ReviewAnswer Of(BatchReview review, IReadOnlyList<string> files) => new(
        review.Batch.Id,
        review.Diagnosis.Blame,
        review.Diagnosis.Sentence,
        review.Diagnosis.NextTime,
        review.Diagnosis.Cause.Kind,
        review.Diagnosis.Loss.Seeds,
        DiagnosisAnswer.Of(review.Diagnosis)!.Losses,
        review.Case.Count.Up,
        review.Case.Count.Seeds,
        review.Case.Expected,
        review.Case.SeenDays.After,
        review.Case.SeenDays.By,
        review.Case.ForecastDays?.Low,
        review.Case.ForecastDays?.High,
        review.Case.Hours.HoursBelow,
        review.Case.Hours.HoursAbove,
        review.Case.Hours.UnknownHours,
        review.Case.WarmDarkHours,
        files);
}
