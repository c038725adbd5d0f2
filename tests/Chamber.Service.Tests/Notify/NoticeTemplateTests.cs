using Chamber.Service.Configuration;
using Chamber.Service.Notify;
using Chamber.Testing;

namespace Chamber.Service.Tests.Notify;

public sealed class NoticeTemplateTests : IDisposable
{
    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void A_line_and_a_paragraph_without_anything_to_say_are_left_out()
    {
        var template = NoticeTemplate.Parse("t", "{title}!\nToday:\n{to-do}\n\nUp:\n{up}\n{harm}\nAs ever.",
            ["title", "to-do", "up", "harm"]);
        Assert.Equal(("Hot!", "Up:\nT1\nAs ever."), template.Fill(new Dictionary<string, string> { ["title"] = "Hot", ["up"] = "T1" }));
    }

    [Fact]
    public void What_is_put_in_is_not_read_as_a_template()
    {
        var template = NoticeTemplate.Parse("t", "{title}\n{what}", ["title", "what"]);
        Assert.Equal(("{what}", "{title}"), template.Fill(new Dictionary<string, string> { ["title"] = "{what}", ["what"] = "{title}" }));
    }

    [Theory]
    [InlineData("alert-opened.txt", "{title}\n{what}\n{tomato}",
        "alert-opened.txt line 3: {tomato} is not known here; there are {title}, {what}, {harm}, {to-do}, {caution}, {caution-line}, "
        + "{subject}, {severity}, {since}, {unseen}.")]
    [InlineData("alert-over.txt", "{title}\nup to {what", "alert-over.txt line 2: a curly bracket stands alone; write names as {title}.")]
    [InlineData("test.txt", "\n{channel}",
        "test.txt line 1: the title is missing: the first line of a template is its title, such as {title}.")]
    [InlineData("alert-openned.txt", "{title}", "alert-openned.txt is no template; there are alert-opened.txt, alert-worse.txt, "
        + "alert-again.txt, alert-over.txt, alert-missed.txt, not-watched.txt, cannot-store.txt, digest.txt, test.txt.")]
    public void A_template_that_cannot_be_used_is_told_with_file_line_and_fix(string file, string text, string message)
    {
        Directory.CreateDirectory(folder.File("templates"));
        folder.Write(Path.Combine("templates", file), text);
        var problem = Assert.Throws<BadInputException>(() => NoticeTemplates.Load(new DataDirectory(folder.Path)));
        Assert.Equal(Path.Combine(folder.Path, "templates", message), problem.Message);
    }

    [Fact]
    public void The_usual_words_stand_as_a_file_of_ones_own()
    {
        Directory.CreateDirectory(folder.File("templates"));
        foreach (var form in Enum.GetValues<NoticeForm>())
        {
            folder.Write(Path.Combine("templates", NoticeTemplates.FileOf(form)), NoticeTemplates.UsualText(form));
        }

        var filled = NoticeTemplates.Load(new DataDirectory(folder.Path))
            .Fill(NoticeForm.AlertOpened, new Dictionary<string, string> { ["title"] = "Hot", ["harm"] = "Bad." });
        Assert.Equal(("Hot", "Bad."), filled);
    }
}
