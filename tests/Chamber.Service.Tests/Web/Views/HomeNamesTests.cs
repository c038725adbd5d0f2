using Chamber.Service.Web.Views;

namespace Chamber.Service.Tests.Web.Views;

public sealed class HomeNamesTests
{
    private static readonly HomeNames Names = new([new("mat", "spots/mat"), new("heat-mat", "spots/heat-mat"), new("T1", "batches/T1")]);

    [Theory]
    [InlineData("Too hot on heat-mat", "Too hot on |[heat-mat]")]
    [InlineData("T1: the cover is still on, on mat.", "[T1]|: the cover is still on, on |[mat]|.")]
    [InlineData("T12 on mat-2 and matting", "T12 on mat-2 and matting")]
    [InlineData("mat.5 is another", "mat.5 is another")]
    public void A_name_leads_to_its_page_and_a_part_of_one_does_not(string text, string parts) =>
        Assert.Equal(parts, string.Join('|', Names.Split(text).Select(part => part.Href is null ? part.Text : $"[{part.Text}]")));

    [Fact]
    public void Without_names_a_sentence_stays_whole() => Assert.Equal([new("T1 on mat", null)], HomeNames.None.Split("T1 on mat"));
}
