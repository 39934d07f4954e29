using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Tests.EndToEnd;
using ThermalTrace.Tests.Support;
using static Microsoft.Playwright.Assertions;

namespace ThermalTrace.Tests.Pages;

/// <summary>The flights: what a pilot does on the list and on a flight's trace, clicked in a real browser.</summary>
[Collection(ChromiumTests.Name)]
public sealed class FlightsTests(Chromium chromium)
{
    [ChromiumFact]
    public async Task Ballast_TypedAndDraggedOverARun_IsOneEditEach_AndTakenBack()
    {
        await using OpenPages pages = await Open();
        await pages.Show("flights");
        ILocator rows = pages.Page.Locator(".flight-row");
        await Expect(rows).ToHaveCountAsync(4);
        // No airframe yet: flights are shown all the same.
        await Expect(rows.Nth(1)).ToContainTextAsync(new Regex(@"launch \d\d m"));
        await Expect(rows.Locator("svg.small-trace path")).Not.ToHaveCountAsync(0);

        await Type(pages, 1, "1.5oz");
        await Expect(Ballast(pages, 1)).ToHaveValueAsync("42.5 g");
        Assert.Equal(42.52, Math.Round(Notes(pages).Single().BallastG!.Value, 2));
        await Type(pages, 1, "80");
        await Expect(Ballast(pages, 1)).ToHaveValueAsync("80 g");

        // Dragged down from the first row over the third.
        await Drag(pages, rows.Nth(0).Locator(".fill"), rows.Nth(2));
        await Expect(Ballast(pages, 3)).ToHaveValueAsync("80 g");
        await Expect(Ballast(pages, 4)).ToHaveValueAsync("");
        Assert.Equal(["1-3"], Notes(pages).Select(FlightField.Format));
        Assert.Equal(0, await pages.Page.Locator(".flight-edit").CountAsync());

        await pages.Page.GetByRole(AriaRole.Button, new() { Name = "Undo: ballast 80 g for flights 1 to 3" }).ClickAsync();
        await Expect(Ballast(pages, 3)).ToHaveValueAsync("");
        await Expect(Ballast(pages, 1)).ToHaveValueAsync("80 g");
        await pages.Page.GetByRole(AriaRole.Button, new() { Name = "Redo: ballast 80 g for flights 1 to 3" }).ClickAsync();
        await Expect(Ballast(pages, 3)).ToHaveValueAsync("80 g");

        await Type(pages, 2, "heavy");
        await Expect(pages.Page.GetByRole(AriaRole.Alert).Filter(new() { HasText = "\"heavy\"" })).ToBeVisibleAsync();
        Assert.Equal(["1-3"], Notes(pages).Select(FlightField.Format));
        await Type(pages, 2, "");
        await Expect(pages.Page.GetByRole(AriaRole.Alert).Filter(new() { HasText = "\"heavy\"" })).ToHaveCountAsync(0);
        Assert.Equal(["1", "3"], Notes(pages).Select(FlightField.Format));
        Assert.Empty(pages.Complaints);
    }

    [ChromiumFact]
    public async Task Ballast_IsFilledWithoutAPointer()
    {
        await using OpenPages pages = await Open();
        await pages.Show("flights");
        await Type(pages, 2, "30");
        await Expect(Ballast(pages, 2)).ToHaveValueAsync("30 g");
        ILocator row = pages.Page.Locator("#flight-2");
        await row.Locator(".fill").FocusAsync();
        await pages.Page.Keyboard.PressAsync("Enter");
        await pages.Page.GetByLabel("Same ballast down to flight").FillAsync("4");
        await row.GetByRole(AriaRole.Button, new() { Name = "Fill", Exact = true }).PressAsync("Enter");
        await Expect(Ballast(pages, 4)).ToHaveValueAsync("30 g");
        await Type(pages, 1, "0");
        await row.GetByRole(AriaRole.Button, new() { Name = "Ballast as flight 1" }).PressAsync("Enter");
        await Expect(Ballast(pages, 2)).ToHaveValueAsync("0 g");
        Assert.Equal(["1-2", "3-4"], Notes(pages).Select(FlightField.Format));
        Assert.Empty(pages.Complaints);
    }

    [ChromiumFact]
    public async Task AFlight_IsLeftOutWithAReason_AndPutBack()
    {
        await using OpenPages pages = await Open();
        await pages.Show("flights");
        ILocator row = pages.Page.Locator("#flight-3");
        await row.GetByRole(AriaRole.Button, new() { Name = "Leave out" }).First.ClickAsync();
        const string reason = "<b>tip</b> \"stall\", =1+1";
        await row.GetByLabel("because").FillAsync(reason);
        await row.GetByRole(AriaRole.Button, new() { Name = "Leave out", Exact = true }).ClickAsync();
        await Expect(row.Locator(".flight-out")).ToContainTextAsync(reason);
        FlightNote note = Notes(pages).Single();
        Assert.Equal((true, reason), (note.Spoiled, FlightNoteEdits.ReasonOf(note)));
        await row.GetByRole(AriaRole.Button, new() { Name = "Put it back" }).ClickAsync();
        await Expect(row.Locator(".flight-out")).ToHaveCountAsync(0);
        Assert.Empty(Notes(pages));
        Assert.Empty(pages.Complaints);
    }

    [ChromiumFact]
    public async Task ABoundary_IsMovedByKeysAndByDragging_KeptInPhases_AndFoundAgain()
    {
        await using OpenPages pages = await Open();
        await pages.Show("flight?number=2");
        string log = ShortSession.Session.Logs[0].File;
        ILocator boundary = pages.Page.GetByRole(AriaRole.Slider, new() { Name = "boundary launch to glide" });
        double found = await Now(boundary);
        await boundary.FocusAsync();
        await pages.Page.Keyboard.PressAsync("ArrowRight");
        await pages.Page.Keyboard.PressAsync("ArrowRight");
        await Expect(boundary).ToHaveAttributeAsync("aria-valuenow", Text(found + 2));
        await Expect(pages.Page.GetByRole(AriaRole.Button, new() { Name = "Undo: launch to glide of flight 2 moved" })).ToBeEnabledAsync();
        IReadOnlyList<PhaseNote> notes = Phases(pages);
        Assert.Equal(["launch", "glide"], notes.Select(n => n.Kind));
        Assert.All(notes, n => Assert.Equal((log, 2), (n.Log, n.Flight!.Value)));
        // Seen again with the note, it is where it was put; so it is in the debrief, which has its own test.
        await Expect(boundary).ToHaveAttributeAsync("aria-valuenow", Text(found + 2));
        await Expect(pages.Page.Locator(".phases")).ToContainTextAsync("set by hand");

        // Closer, then dragged with the pointer.
        await pages.Page.GetByRole(AriaRole.Button, new() { Name = "look closer" }).First.ClickAsync();
        LocatorBoundingBoxResult box = (await boundary.BoundingBoxAsync())!;
        await pages.Page.Mouse.MoveAsync(box.X + box.Width / 2, box.Y + 60);
        await pages.Page.Mouse.DownAsync();
        await pages.Page.Mouse.MoveAsync(box.X + box.Width / 2 - 20, box.Y + 60, new() { Steps = 6 });
        await pages.Page.Mouse.MoveAsync(box.X + box.Width / 2 - 40, box.Y + 60, new() { Steps = 6 });
        await OpenPages.Picture(pages.Page, "flight-dragging");
        await pages.Page.Mouse.UpAsync();
        await pages.Page.WaitForFunctionAsync("was => { const now = +document.querySelector('[data-boundary=\"1\"]').getAttribute('aria-valuenow'); return now < was - 0.15 && !document.querySelector('.held'); }", found + 2);
        double dragged = await Now(boundary);
        Assert.InRange(Phases(pages)[0].EndS - StartOf(2), dragged - 0.25, dragged + 0.05);

        await pages.Page.GetByRole(AriaRole.Button, new() { Name = "All boundaries back to what the program found" }).ClickAsync();
        await Expect(boundary).ToHaveAttributeAsync("aria-valuenow", Text(found));
        Assert.False(File.Exists(Path.Combine(pages.Folder, PhasesFile.Name)));
        Assert.Empty(pages.Complaints);
    }

    [ChromiumFact]
    public async Task Trace_IsZoomedByButtonsKeysWheelAndByAStretchDrawn()
    {
        await using OpenPages pages = await Open();
        await pages.Show("flight?number=1");
        ILocator sliders = pages.Page.GetByRole(AriaRole.Slider);
        await Expect(sliders).Not.ToHaveCountAsync(0);
        int all = await sliders.CountAsync();
        await Expect(pages.Page.GetByRole(AriaRole.Button, new() { Name = "Whole flight" })).ToBeDisabledAsync();
        await pages.Page.GetByRole(AriaRole.Button, new() { Name = "Closer", Exact = true }).ClickAsync();
        await Expect(pages.Page.GetByRole(AriaRole.Button, new() { Name = "Whole flight" })).ToBeEnabledAsync();
        ILocator trace = pages.Page.GetByRole(AriaRole.Group, new() { Name = "Height over time" });
        await trace.FocusAsync();
        await pages.Page.Keyboard.PressAsync("+");
        await pages.Page.Keyboard.PressAsync("0");
        await Expect(sliders).ToHaveCountAsync(all);
        LocatorBoundingBoxResult box = (await trace.BoundingBoxAsync())!;
        await pages.Page.Mouse.MoveAsync(box.X + box.Width * 0.4f, box.Y + 100);
        await pages.Page.Mouse.DownAsync();
        await pages.Page.Mouse.MoveAsync(box.X + box.Width * 0.6f, box.Y + 100, new() { Steps = 5 });
        await pages.Page.Mouse.UpAsync();
        await Expect(pages.Page.GetByRole(AriaRole.Button, new() { Name = "Earlier" })).ToBeEnabledAsync();
        await Expect(pages.Page.GetByRole(AriaRole.Button, new() { Name = "Later" })).ToBeEnabledAsync();
        await pages.Page.GetByRole(AriaRole.Button, new() { Name = "Whole flight" }).ClickAsync();
        await Expect(sliders).ToHaveCountAsync(all);
        // Beside it the ground, with a wind and its interval.
        await Expect(pages.Page.Locator(".flight-track")).ToContainTextAsync(new Regex(@"Wind [\d.]+ \([\d.]+ to [\d.]+\) m/s from \d+"));
        await pages.Page.GetByRole(AriaRole.Link, new() { Name = "Flight 2 ›" }).ClickAsync();
        await Expect(pages.Page.Locator("h1")).ToHaveTextAsync("Flight 2");
        Assert.Empty(pages.Complaints);
    }

    [ChromiumFact]
    public async Task NotesThatCannotBeRead_AreNamedWithTheirLine_AndNotWrittenOver()
    {
        await using OpenPages pages = await Open(("flights.csv", "log,ballast_g\nday.csv,heavy\n"), ("phases.csv", "log,start_s,end_s,kind\nday.csv,9,3,glide\n"));
        await pages.Show("flights");
        await Expect(pages.Page.Locator(".complaint").First).ToContainTextAsync("flights.csv:2:");
        await Expect(Ballast(pages, 1)).ToBeDisabledAsync();
        await pages.Show("flight?number=1");
        await Expect(pages.Page.Locator(".complaint").First).ToContainTextAsync("phases.csv:2:");
        await Expect(pages.Page.Locator(".trace svg")).ToBeVisibleAsync();
        await Expect(pages.Page.GetByRole(AriaRole.Slider)).ToHaveCountAsync(0);
        await pages.Show("flight?number=77");
        await Expect(pages.Page.Locator("main")).ToContainTextAsync("There is no flight 77; there are 4.");
        Assert.Empty(pages.Complaints);
    }

    [ChromiumFact]
    public async Task ANoteForAFlightThatIsNotThere_IsNamed()
    {
        await using OpenPages pages = await Open(("flights.csv", "log,flight,ballast_g\nday.csv,3-9,30\n"));
        await pages.Show("flights");
        await Expect(pages.Page.Locator(".complaint").First).ToContainTextAsync("flights.csv:2: flight 3-9 of day.csv is not there");
        await Expect(Ballast(pages, 4)).ToHaveValueAsync("30 g");
    }

    [ChromiumTheory]
    [InlineData(1280, ColorScheme.Light)]
    [InlineData(1280, ColorScheme.Dark)]
    [InlineData(380, ColorScheme.Light)]
    [InlineData(380, ColorScheme.Dark)]
    public async Task Pages_FitTheirWindow(int widthPx, ColorScheme scheme)
    {
        await using OpenPages pages = await Open(widthPx, scheme, ("flights.csv", "log,flight,ballast_g,spoiled,notes\nday.csv,1-2,30,,\nday.csv,3,70,yes,\"left out: broken off in a gust, and landed out behind the hedge\"\n"));
        await pages.Show("flights");
        await Expect(pages.Page.Locator(".flight-row")).ToHaveCountAsync(4);
        await pages.Page.Locator("#flight-2 .flight-more").ClickAsync();
        await Expect(pages.Page.Locator(".flight-edit")).ToBeVisibleAsync();
        await OpenPages.Picture(pages.Page, $"flights-{widthPx}-{scheme}");
        Assert.False(await OpenPages.IsTooWide(pages.Page));
        await pages.Show("flight?number=1");
        await Expect(pages.Page.Locator(".flight-track")).ToContainTextAsync("m/s from");
        await pages.Page.GetByRole(AriaRole.Slider).Nth(1).PressAsync("ArrowRight");
        await Expect(pages.Page.Locator(".phases")).ToContainTextAsync("set by hand");
        await OpenPages.Picture(pages.Page, $"flight-{widthPx}-{scheme}");
        Assert.False(await OpenPages.IsTooWide(pages.Page));
        Assert.Empty(pages.Complaints);
    }

    private Task<OpenPages> Open(params (string Name, string Text)[] files) => Open(1280, ColorScheme.Light, files);

    /// <summary>Four flights in one log, and nothing else but what is given.</summary>
    private Task<OpenPages> Open(int widthPx, ColorScheme scheme, params (string Name, string Text)[] files)
    {
        TempFolder folder = new();
        folder.Write(ShortSession.Simulated.Logs[0].FileName, ShortSession.Simulated.Logs[0].Bytes);
        foreach ((string name, string text) in files)
        {
            folder.Write(name, text);
        }
        return OpenPages.Of(chromium, folder, widthPx, scheme);
    }

    private static ILocator Ballast(OpenPages pages, int flight) => pages.Page.Locator($"#ballast-{flight}");

    private static async Task Type(OpenPages pages, int flight, string text)
    {
        await Ballast(pages, flight).FillAsync(text);
        await Ballast(pages, flight).BlurAsync();
        // What was typed is saved before anything else is done.
        await pages.Page.WaitForTimeoutAsync(100);
    }

    private static async Task Drag(OpenPages pages, ILocator from, ILocator to)
    {
        LocatorBoundingBoxResult a = (await from.BoundingBoxAsync())!, b = (await to.BoundingBoxAsync())!;
        await pages.Page.Mouse.MoveAsync(a.X + a.Width / 2, a.Y + a.Height / 2);
        await pages.Page.Mouse.DownAsync();
        await pages.Page.Mouse.MoveAsync(a.X + a.Width / 2, b.Y + b.Height / 2, new() { Steps = 8 });
        await Expect(pages.Page.Locator(".filling")).ToHaveCountAsync(3);
        await OpenPages.Picture(pages.Page, "flights-filling");
        await pages.Page.Mouse.UpAsync();
    }

    private static async Task<double> Now(ILocator slider) => double.Parse((await slider.GetAttributeAsync("aria-valuenow"))!, CultureInfo.InvariantCulture);

    private static string Text(double seconds) => seconds.ToString("0.0", CultureInfo.InvariantCulture);

    private static double StartOf(int flight) => FlightLook.At(ShortSession.Session.Logs, 0).Flights(null, [])[flight - 1].Entry.StartS;

    private static IReadOnlyList<FlightNote> Notes(OpenPages pages) =>
        File.Exists(Path.Combine(pages.Folder, FlightsFile.Name)) ? FlightsFile.Read(new StringReader(File.ReadAllText(Path.Combine(pages.Folder, FlightsFile.Name))), FlightsFile.Name) : [];

    private static IReadOnlyList<PhaseNote> Phases(OpenPages pages) =>
        PhasesFile.Read(new StringReader(File.ReadAllText(Path.Combine(pages.Folder, PhasesFile.Name))), PhasesFile.Name);
}
