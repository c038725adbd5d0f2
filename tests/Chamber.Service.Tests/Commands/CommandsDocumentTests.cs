using Chamber.Testing;

namespace Chamber.Service.Tests.Commands;

public sealed class CommandsDocumentTests
{
    /// <summary>Rewritten when CHAMBER_ANSWERS is <c>write</c>.</summary>
    [Fact]
    public void The_document_of_commands_is_in_step_with_the_program()
    {
        var path = SourceTree.Path("docs", "commands.md");
        var page = CommandReference.Write();
        if (Environment.GetEnvironmentVariable("CHAMBER_ANSWERS") == "write")
        {
            File.WriteAllText(path, page);
            return;
        }

        Assert.Equal(File.ReadAllText(path), page);
    }

    [Fact]
    public void Every_option_says_what_it_is_for_and_what_it_takes()
    {
        var silent =
            from verb in CommandReference.Every()
            from option in verb.Options
            where option.Description is not [.., '.'] || (option.ValueType != typeof(bool) && option.HelpName is null)
            select $"{CommandReference.Path(verb)} {option.Name}";
        var arguments =
            from verb in CommandReference.Every()
            from argument in verb.Arguments
            where argument.Description is not [.., '.']
            select $"{CommandReference.Path(verb)} {argument.Name}";

        Assert.Equal(string.Empty, string.Join(", ", silent.Concat(arguments)));
    }
}
