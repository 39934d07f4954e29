namespace ThermalTrace.Sessions;

/// <summary>Reads a section's drag polar: <c>reynolds,cl,cd</c>, one point a row.</summary>
public static class AirfoilPolarFile
{
    /// <summary>Fewest points that make a curve.</summary>
    private const int FewestPoints = 3;

    /// <summary>Reads the points in file order.</summary>
    /// <exception cref="Units.UnusableInputException">A wrong header, a value that cannot be, too few points.</exception>
    public static AirfoilPolar Read(TextReader reader, string name)
    {
        NoteTable table = NoteTable.Read(reader, name, ["reynolds", "cl", "cd"], []);
        List<double> reynolds = [], cl = [], cd = [];
        foreach (NoteTable.Row row in table.Rows)
        {
            reynolds.Add(table.RequiredNumber(row, "reynolds", 1_000, 1e8));
            cl.Add(table.RequiredNumber(row, "cl", -3, 5));
            cd.Add(table.RequiredNumber(row, "cd", 1e-4, 2));
        }
        table.Complaints.Throw();
        if (reynolds.Count < FewestPoints)
        {
            table.Complaints.Fail(0, $"has {reynolds.Count} {(reynolds.Count == 1 ? "point" : "points")}; expected at least {FewestPoints}");
        }
        return new AirfoilPolar(reynolds, cl, cd);
    }
}
