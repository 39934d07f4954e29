using System.CommandLine;
using System.CommandLine.Invocation;
using System.Reflection;

namespace ThermalTrace.Cli;

/// <summary>--version: the release, and the commit it was built from where it was built from one.</summary>
internal sealed class VersionLine(Terminal terminal) : SynchronousCommandLineAction
{
    /// <summary>Such as <c>0.1.0+6eac57d9c1</c>; the build asks git.</summary>
    public static string Text => typeof(VersionLine).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion;

    /// <inheritdoc/>
    public override bool ClearsParseErrors => true;

    /// <inheritdoc/>
    public override int Invoke(ParseResult parseResult)
    {
        terminal.Output.Write($"thermaltrace {Text}\n");
        return ExitCode.Done;
    }
}
