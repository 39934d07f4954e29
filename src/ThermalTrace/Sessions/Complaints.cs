using System.Globalization;
using ThermalTrace.Units;

namespace ThermalTrace.Sessions;

/// <summary>What is wrong with a file that a person wrote, gathered so that one reading shows all of it.</summary>
/// <param name="file">File name, as messages say it.</param>
internal sealed class Complaints(string file)
{
    // A table in a wrong shape complains on every row; the first few tell the story.
    private const int Shown = 20;
    private readonly List<string> _messages = [];

    /// <summary>True while there is nothing to complain of.</summary>
    public bool None => _messages.Count == 0;

    /// <summary>Adds a complaint; line 0 concerns the whole file.</summary>
    public void Add(int line, string text) => _messages.Add(line > 0
        ? string.Create(CultureInfo.InvariantCulture, $"{file}:{line}: {text}")
        : $"{file}: {text}");

    /// <summary>Ends the reading where something was wrong.</summary>
    /// <exception cref="UnusableInputException">There was a complaint.</exception>
    public void Throw()
    {
        if (None)
        {
            return;
        }
        IEnumerable<string> shown = _messages.Take(Shown);
        if (_messages.Count > Shown)
        {
            shown = shown.Append(string.Create(CultureInfo.InvariantCulture, $"{file}: and {_messages.Count - Shown} more"));
        }
        throw new UnusableInputException(string.Join('\n', shown));
    }

    /// <summary>Adds a complaint and ends the reading: for what makes the rest unreadable.</summary>
    /// <exception cref="UnusableInputException">Always.</exception>
    [System.Diagnostics.CodeAnalysis.DoesNotReturn]
    public void Fail(int line, string text)
    {
        Add(line, text);
        Throw();
        throw new UnusableInputException(text);
    }
}
