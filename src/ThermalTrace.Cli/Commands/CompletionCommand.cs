using System.CommandLine;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>completion SHELL</c>: a few lines for a shell, which asks the program itself what could come next.</summary>
internal static class CompletionCommand
{
    // Each hands over the line and the place of the cursor; the parser answers one word a line. Where it has none, the shell completes file names.
    private static readonly Dictionary<string, string> Scripts = new(StringComparer.Ordinal)
    {
        ["bash"] = """
            _thermaltrace() {
              local IFS=$'\n'
              COMPREPLY=($(compgen -W "$(thermaltrace "[suggest:${COMP_POINT}]" "${COMP_LINE}" 2>/dev/null)" -- "${COMP_WORDS[COMP_CWORD]}"))
            }
            complete -o default -F _thermaltrace thermaltrace
            """,
        ["zsh"] = """
            _thermaltrace() {
              local -a words_found
              words_found=("${(@f)$(thermaltrace "[suggest:${CURSOR}]" "${BUFFER}" 2>/dev/null)}")
              compadd -- ${words_found:#} || _files
            }
            (( $+functions[compdef] )) || { autoload -Uz compinit && compinit }
            compdef _thermaltrace thermaltrace
            """,
        ["fish"] = """
            complete -c thermaltrace -a "(thermaltrace \"[suggest:\"(commandline -C)\"]\" (commandline -p) 2>/dev/null)"
            """,
        ["pwsh"] = """
            Register-ArgumentCompleter -Native -CommandName thermaltrace -ScriptBlock {
                param($word, $line, $cursor)
                thermaltrace "[suggest:$cursor]" "$line" | Where-Object { $_ -like "$word*" } | ForEach-Object {
                    [System.Management.Automation.CompletionResult]::new($_, $_, 'ParameterValue', $_)
                }
            }
            """,
    };

    public static void Fill(Command command, Terminal terminal)
    {
        Argument<string> shell = new("SHELL") { Description = "bash, zsh, fish or pwsh." };
        shell.AcceptOnlyFromAmong([.. Scripts.Keys]);
        command.Add(shell);
        command.SetWork(terminal, (parsed, _) =>
        {
            terminal.Output.Write(Scripts[parsed.GetRequiredValue(shell)] + "\n");
            return ExitCode.Done;
        });
    }
}
