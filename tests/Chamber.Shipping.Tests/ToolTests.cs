using Chamber.Shipping.Tests.Rig;
using Chamber.Testing;

namespace Chamber.Shipping.Tests;

public sealed class ToolTests(Shipped shipped)
{
    [Fact]
    public async Task The_tool_installs_from_a_folder_and_does_the_main_job()
    {
        using var folder = new TempFolder();
        string[] install = ["tool", "install", "chamber", "--version", shipped.Version, "--tool-path", folder.File("tools"), "--add-source",
            Shipped.Packages];
        (await RunningProgram.Run("dotnet", install, folder: folder.Path, patience: TimeSpan.FromMinutes(5))).Succeeded();
        await MainJob.Do(folder.File("tools/chamber"));
    }
}
