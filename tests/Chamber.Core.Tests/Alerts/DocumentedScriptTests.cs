using Chamber.Core.Alerts.Scripts;

namespace Chamber.Core.Tests.Alerts;

public sealed class DocumentedScriptTests
{
    [Fact]
    public void The_script_in_the_docs_can_be_read()
    {
        var docs = File.ReadAllText(Path.Combine(WatchScriptFiles.Folder, "..", "..", "..", "docs", "alerts.md"));
        var script = WatchScript.Parse("docs/alerts.md", docs.Split("```")[1]);

        Assert.NotEmpty(script.Readings);
    }
}
