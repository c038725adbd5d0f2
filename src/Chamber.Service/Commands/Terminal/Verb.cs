using System.CommandLine;
using Chamber.Core;

namespace Chamber.Service.Commands.Terminal;

/// <summary>A command of <c>chamber</c> with the examples that its help ends with.</summary>
internal sealed class Verb : Command
{
    /// <param name="name">As it is typed.</param>
    /// <param name="purpose">One sentence: what it answers or does.</param>
    /// <param name="examples">Whole command lines that work as they stand.</param>
    public Verb(string name, string purpose, params string[] examples)
        : base(name, purpose) => Examples = examples;

    public IReadOnlyList<string> Examples { get; }

    /// <summary>It also answers from what was known at an earlier time.</summary>
    public Verb LooksBack()
    {
        Add(CommonOptions.AsOf);
        return this;
    }

    /// <summary>What the verb does. Whatever it throws becomes one line and an exit code, in `CommandLine` alone.</summary>
    public Verb Does(Action<Invocation> action)
    {
        return Does(invocation =>
        {
            action(invocation);
            return ExitCode.Done;
        });
    }

    /// <summary>Without this an asynchronous lambda that answers nothing would be taken for an action, and run beside its own
    /// end.</summary>
    public Verb Does(Func<Invocation, Task> action) => Does(async invocation =>
    {
        await action(invocation);
        return ExitCode.Done;
    });

    /// <inheritdoc cref="Does(Action{Invocation})"/>
    public Verb Does(Func<Invocation, int> action) =>
        Does(invocation => Task.FromResult(action(invocation)));

    /// <inheritdoc cref="Does(Action{Invocation})"/>
    public Verb Does(Func<Invocation, Task<int>> action)
    {
        SetAction(async (parse, cancel) =>
        {
            using var invocation = new Invocation(parse, cancel);
            try
            {
                return await action(invocation);
            }
            catch (RefusedException refused)
            {
                throw new BadInputException(refused.Text.Tell(invocation.Show), refused) { Kind = BadInputKind.Contradicts,
                    Field = refused.Field };
            }
            finally
            {
                invocation.TellLeftOut();
            }
        });
        return this;
    }
}
