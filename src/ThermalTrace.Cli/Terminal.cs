using System.Text;

namespace ThermalTrace.Cli;

/// <summary>Where a command's words go. Tests put writers in place of the console.</summary>
/// <param name="Output">Data.</param>
/// <param name="Messages">Everything said to a person.</param>
public sealed record Terminal(TextWriter Output, TextWriter Messages)
{
    // Long lines tire the eye, and a report pasted into a mail breaks beyond this.
    private const int Widest = 110;
    private const int Narrowest = 40;
    private const int UsualWidth = 80;

    /// <summary>What a person types while a command runs; ended at once where nobody can.</summary>
    public TextReader Input { get; init; } = TextReader.Null;

    /// <summary>True where a person watches <see cref="Messages"/>, so that a progress bar helps.</summary>
    public bool MessagesAreWatched { get; init; }

    /// <summary>False where the person asked for no colour.</summary>
    public bool Colour { get; init; }

    /// <summary>Characters in a line of <see cref="Output"/>.</summary>
    public int Width { get; init; } = UsualWidth;

    /// <summary>The console of this process. NO_COLOR as in no-color.org: any value but an empty one.</summary>
    public static Terminal OfThisProcess() => new(Console.Out, Console.Error)
    {
        Input = Console.In,
        MessagesAreWatched = !Console.IsErrorRedirected && Environment.GetEnvironmentVariable("TERM") != "dumb",
        Colour = string.IsNullOrEmpty(Environment.GetEnvironmentVariable("NO_COLOR")),
        Width = ConsoleWidth(),
    };

    /// <summary>Tells a person something that may contain untrusted text.</summary>
    public void Say(string text)
    {
        foreach (string line in text.Split('\n'))
        {
            Messages.WriteLine(Visible(line));
        }
    }

    /// <summary>
    /// The text with control characters made visible: a file's name or a column's must not move the cursor or colour the screen.
    /// </summary>
    public static string Visible(string text)
    {
        if (!text.Any(IsHidden))
        {
            return text;
        }
        StringBuilder visible = new(text.Length);
        foreach (char c in text)
        {
            visible.Append(c == '\t' ? ' ' : IsHidden(c) ? '\uFFFD' : c);
        }
        return visible.ToString();
    }

    // Besides the controls, the marks that turn the direction of writing can make a line read as another.
    private static bool IsHidden(char c) => char.IsControl(c) || c is >= '\u202A' and <= '\u202E' or >= '\u2066' and <= '\u2069' or '\u200E' or '\u200F';

    private static int ConsoleWidth()
    {
        try
        {
            // A screen that does not know its width says 0.
            return Console.IsOutputRedirected || Console.WindowWidth < Narrowest ? UsualWidth : Math.Min(Console.WindowWidth, Widest);
        }
        catch (Exception noScreen) when (noScreen is IOException or PlatformNotSupportedException)
        {
            return UsualWidth;
        }
    }
}
