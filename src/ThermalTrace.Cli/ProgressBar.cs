using Spectre.Console;

namespace ThermalTrace.Cli;

/// <summary>A bar on the messages' side while work goes on, where a person watches.</summary>
internal static class ProgressBar
{
    /// <summary>Does the work; its argument takes a stage in words and a fraction from 0 to 1.</summary>
    public static T While<T>(Terminal terminal, string stage, Func<Action<string, double>, T> work)
    {
        if (!terminal.MessagesAreWatched)
        {
            return work((_, _) => { });
        }
        IAnsiConsole console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Out = new AnsiConsoleOutput(terminal.Messages),
            ColorSystem = terminal.Colour ? ColorSystemSupport.Detect : ColorSystemSupport.NoColors,
            Interactive = InteractionSupport.Yes,
        });
        return console.Progress()
            .AutoClear(true)
            .Columns(new TaskDescriptionColumn { Alignment = Justify.Left }, new ProgressBarColumn(), new PercentageColumn())
            .Start(context =>
            {
                ProgressTask bar = context.AddTask(Markup.Escape(stage), maxValue: 1);
                return work((words, fraction) =>
                {
                    bar.Description = Markup.Escape(Terminal.Visible(words));
                    bar.Value = double.IsFinite(fraction) ? Math.Clamp(fraction, 0, 1) : 0;
                });
            });
    }
}
