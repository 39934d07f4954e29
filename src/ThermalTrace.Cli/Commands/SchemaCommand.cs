using System.CommandLine;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>schema [DOCUMENT]</c>: what other programs may rely on.</summary>
internal static class SchemaCommand
{
    public static void Fill(Command command, Terminal terminal)
    {
        Argument<string?> document = new("DOCUMENT") { Description = "Its name; left out, the names are listed.", Arity = ArgumentArity.ZeroOrOne };
        document.AcceptOnlyFromAmong([.. DocumentSchemas.Names]);
        command.Add(document);
        command.SetWork(terminal, (parsed, _) =>
        {
            if (parsed.GetValue(document) is { } name)
            {
                terminal.Output.Write(DocumentSchemas.Of(name));
            }
            else
            {
                TextTable.Write(terminal.Output, numbersFrom: 2, [.. DocumentSchemas.Names.Select(n => new[] { n, DocumentSchemas.From(n) })]);
            }
            return ExitCode.Done;
        });
    }
}
