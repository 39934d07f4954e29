using System.Text;
using CsCheck;
using ThermalTrace.Pages.Desk;
using ThermalTrace.Tests.Cli;

namespace ThermalTrace.Tests.Pages;

public sealed class SavedFilesTests
{
    /// <summary>Any row of edits, steps back and steps forth leaves the folder as a list of states would have it.</summary>
    [Fact]
    public void Edits_TakenBackAndMadeAgain_AreThoseOfAListOfStates() =>
        Gen.Select(Gen.Int[0, 9], Gen.Bool.Select(flights => flights ? "flights.csv" : "phases.csv"), Gen.Char['a', 'e']).List[1, 25].Sample(steps =>
        {
            using TempFolder files = TempFolder.WithQuietSession();
            using FolderDesk desk = new(files.Session);
            desk.ReadAsync("once").GetAwaiter().GetResult();
            List<(string? Flights, string? Phases)> states = [(null, null)];
            int at = 0;
            foreach ((int kind, string file, char letter) in steps)
            {
                if (kind < 5)
                {
                    string? text = letter == 'a' ? null : $"# {letter}\n";
                    Assert.Null(desk.SaveAsync($"{letter}", file, _ => text).GetAwaiter().GetResult());
                    (string? Flights, string? Phases) next = file == "flights.csv" ? (text, states[at].Phases) : (states[at].Flights, text);
                    if (next != states[at])
                    {
                        states.RemoveRange(at + 1, states.Count - at - 1);
                        states.Add(next);
                        at++;
                    }
                }
                else if (kind < 8)
                {
                    Assert.Null(desk.UndoAsync().GetAwaiter().GetResult());
                    at = Math.Max(0, at - 1);
                }
                else
                {
                    Assert.Null(desk.RedoAsync().GetAwaiter().GetResult());
                    at = Math.Min(states.Count - 1, at + 1);
                }
                Assert.Equal(states[at], (Text(files, "flights.csv"), Text(files, "phases.csv")));
                Assert.Equal((at > 0, at < states.Count - 1), (desk.Saved.UndoName is not null, desk.Saved.RedoName is not null));
            }
        }, iter: 40, threads: 1);

    private static string? Text(TempFolder files, string name)
    {
        string path = Path.Combine(files.Session, name);
        return File.Exists(path) ? File.ReadAllText(path, Encoding.UTF8) : null;
    }
}
