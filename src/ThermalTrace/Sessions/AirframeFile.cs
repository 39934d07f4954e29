using System.Globalization;
using System.Text.Json;
using ThermalTrace.Units;

namespace ThermalTrace.Sessions;

/// <summary>Reads <c>airframe.json</c>, which people edit by hand: comments and trailing commas are allowed.</summary>
public static class AirframeFile
{
    /// <summary>The file's name in a session folder.</summary>
    public const string Name = "airframe.json";

    private const int LongestText = 1_000_000;

    // Osmium, rounded up (handbooks, 22.59; from memory).
    private const double DensestGCm3 = 22.7;

    /// <summary>Reads and checks the model.</summary>
    /// <param name="reader">The text.</param>
    /// <param name="name">The file's name, for messages.</param>
    /// <param name="openBeside">Opens a file of that name in the same folder for <c>airfoil_polar</c>; null from it means that there is none.</param>
    /// <exception cref="UnusableInputException">Not JSON, an unknown, missing or impossible value; all of them, each with its line.</exception>
    public static Airframe Read(TextReader reader, string name, Func<string, TextReader?>? openBeside = null)
    {
        ArgumentNullException.ThrowIfNull(reader);
        Complaints complaints = new(name);
        char[] buffer = new char[LongestText + 1];
        int length = reader.ReadBlock(buffer);
        if (length > LongestText)
        {
            complaints.Fail(0, "is larger than 1 MB; expected a short description of the model");
        }
        CommentedJson root = CommentedJson.Parse(new string(buffer, 0, length), complaints);
        if (root.Kind != JsonTokenType.StartObject)
        {
            complaints.Fail(root.Line, $"is {root.Described}; expected an object {{ … }}");
        }
        JsonFields fields = new(root, "", complaints);
        string? model = fields.Text("name", required: true, "the model's name in double quotes");
        double? span = fields.Number("wing_span_mm", required: true, 100, 20_000, "mm");
        double? area = fields.Number("wing_area_dm2", required: true, 0.5, 2_000, "dm²");
        double? mass = fields.Number("unballasted_mass_g", required: true, 1, 150_000, "g");
        Airframe airframe = new()
        {
            Name = model ?? "",
            WingSpanMm = span ?? double.NaN,
            WingAreaDm2 = area ?? double.NaN,
            UnballastedMassG = mass ?? double.NaN,
            MaxFlyingMassG = fields.Number("max_flying_mass_g", required: false, 1, 150_000, "g"),
            Launch = Launch(fields, complaints),
            BallastOptionsG = Options(fields, root, complaints),
            CgMm = fields.Number("cg_mm", required: false, -2_000, 2_000, "mm"),
            CgLimitsMm = Limits(fields, root, complaints),
            MeanChordMm = fields.Number("mean_chord_mm", required: false, 10, 2_000, "mm"),
            NeutralPointMm = fields.Number("neutral_point_mm", required: false, -2_000, 2_000, "mm"),
            PitchInertiaKgM2 = fields.Number("pitch_inertia_kg_m2", required: false, 1e-7, 1_000, "kg m²"),
            BallastTube = Tube(fields, complaints),
            BallastStock = Stock(fields, complaints),
            AirfoilPolarFile = fields.Text("airfoil_polar", required: false, "the name of a CSV file beside this one"),
        };
        fields.RefuseOthers();
        CheckTogether(airframe, root, complaints);
        AirfoilPolar? polar = Polar(airframe.AirfoilPolarFile, root, openBeside, complaints);
        complaints.Throw();
        return airframe with { AirfoilPolar = polar };
    }

    private static LaunchKind? Launch(JsonFields fields, Complaints complaints)
    {
        string[] kinds = [.. Enum.GetNames<LaunchKind>().Select(k => k.ToLowerInvariant())];
        if (fields.Find("launch", required: false, $"one of {string.Join(", ", kinds)}") is not { } found)
        {
            return null;
        }
        int index = found.Kind == JsonTokenType.String ? Array.IndexOf(kinds, found.Text) : -1;
        if (index < 0)
        {
            complaints.Add(found.Line, $"launch is {found.Described}; expected one of {string.Join(", ", kinds)}"
                + (found.Kind == JsonTokenType.String ? NearestName.Hint(found.Text, kinds) : ""));
            return null;
        }
        return (LaunchKind)index;
    }

    private static double[] Options(JsonFields fields, CommentedJson root, Complaints complaints)
    {
        double[] options = [.. fields.Numbers("ballast_options_g", 0, 50_000, "g").Order()];
        for (int i = 1; i < options.Length; i++)
        {
            if (options[i] == options[i - 1])
            {
                complaints.Add(LineOf(root, "ballast_options_g"),
                    string.Create(CultureInfo.InvariantCulture, $"ballast_options_g has {options[i]} twice"));
            }
        }
        return options;
    }

    private static (double ForwardMm, double AftMm)? Limits(JsonFields fields, CommentedJson root, Complaints complaints)
    {
        int before = root.Members.Count(m => m.Key == "cg_limits_mm");
        IReadOnlyList<double> limits = fields.Numbers("cg_limits_mm", -2_000, 2_000, "mm");
        if (before == 0 || !complaints.None && limits.Count == 0)
        {
            return null;
        }
        if (limits.Count != 2 || !(limits[0] < limits[1]))
        {
            complaints.Add(LineOf(root, "cg_limits_mm"), string.Create(CultureInfo.InvariantCulture,
                $"cg_limits_mm is [{string.Join(", ", limits)}]; expected [forward, aft], the forward limit being the smaller number"));
            return null;
        }
        return (limits[0], limits[1]);
    }

    private static BallastTube? Tube(JsonFields fields, Complaints complaints)
    {
        const string expected = "an object with bore_mm, length_mm and centre_mm";
        if (fields.Find("ballast_tube", required: false, expected) is not { } found)
        {
            return null;
        }
        if (found.Kind != JsonTokenType.StartObject)
        {
            complaints.Add(found.Line, $"ballast_tube is {found.Described}; expected {expected}");
            return null;
        }
        JsonFields tube = new(found, "ballast_tube", complaints);
        double? bore = tube.Number("bore_mm", required: true, 1, 200, "mm");
        double? length = tube.Number("length_mm", required: true, 1, 5_000, "mm");
        double? centre = tube.Number("centre_mm", required: true, -2_000, 2_000, "mm");
        tube.RefuseOthers();
        return bore is { } b && length is { } l && centre is { } c ? new BallastTube(b, l, c) : null;
    }

    private static List<BallastPiece> Stock(JsonFields fields, Complaints complaints)
    {
        const string expected = "a list of objects with name, material, mass_g, diameter_mm, length_mm and count";
        List<BallastPiece> stock = [];
        if (fields.Find("ballast_stock", required: false, expected) is not { } found)
        {
            return stock;
        }
        if (found.Kind != JsonTokenType.StartArray)
        {
            complaints.Add(found.Line, $"ballast_stock is {found.Described}; expected {expected}");
            return stock;
        }
        foreach (CommentedJson item in found.Items)
        {
            if (item.Kind != JsonTokenType.StartObject)
            {
                complaints.Add(item.Line, $"ballast_stock has {item.Described}; expected {expected}");
                continue;
            }
            JsonFields piece = new(item, "ballast_stock", complaints);
            string? name = piece.Text("name", required: true, "the piece's name in double quotes");
            string? material = piece.Text("material", required: true, "its material in double quotes");
            double? mass = piece.Number("mass_g", required: true, 0.01, 50_000, "g");
            double? diameter = piece.Number("diameter_mm", required: true, 0.1, 200, "mm");
            double? length = piece.Number("length_mm", required: true, 0.1, 5_000, "mm");
            double? count = piece.Number("count", required: true, 1, 1_000, "pieces");
            piece.RefuseOthers();
            if (count is { } pieces && pieces != Math.Floor(pieces))
            {
                complaints.Add(item.Line, string.Create(CultureInfo.InvariantCulture, $"ballast_stock.count is {pieces}; expected a whole number of pieces"));
            }
            else if (name is not null && material is not null && mass is { } g && diameter is { } d && length is { } l && count is { } n)
            {
                CheckDensity(g, d, l, item.Line, complaints);
                stock.Add(new BallastPiece(name, material, g, d, l, (int)n));
            }
        }
        return stock;
    }

    /// <summary>No piece is denser than the densest metal: a figure is in another unit, or slipped. Each may have been rounded to a tenth.</summary>
    private static void CheckDensity(double massG, double diameterMm, double lengthMm, int line, Complaints complaints)
    {
        double radius = (diameterMm + 0.05) / 2, least = (massG - 0.05) / (Math.PI * radius * radius * (lengthMm + 0.05)) * 1000;
        if (least > DensestGCm3)
        {
            complaints.Add(line, string.Create(CultureInfo.InvariantCulture,
                $"ballast_stock: mass_g {massG}, diameter_mm {diameterMm} and length_mm {lengthMm} do not go together; they make {massG / (Math.PI * diameterMm * diameterMm / 4 * lengthMm) * 1000:0.#} g/cm³, "
                + $"and no metal has more than {DensestGCm3}. Is the mass in g, and are diameter and length in mm?"));
        }
    }

    /// <summary>Values that are possible one by one and not together: nearly always a slip in a unit.</summary>
    private static void CheckTogether(Airframe airframe, CommentedJson root, Complaints complaints)
    {
        // Model gliders lie between 6 and 30; the bounds leave room for a flying plank and for what nobody has built yet.
        if (airframe.AspectRatio is < 1.5 or > 80)
        {
            complaints.Add(LineOf(root, "wing_area_dm2"), string.Create(CultureInfo.InvariantCulture,
                $"wing_span_mm {airframe.WingSpanMm} and wing_area_dm2 {airframe.WingAreaDm2} make an aspect ratio of {airframe.AspectRatio:0.##}; "
                + $"expected 1.5 to 80, is the span in mm and the area in dm²?"));
        }
        if (airframe.MaxFlyingMassG < airframe.UnballastedMassG)
        {
            complaints.Add(LineOf(root, "max_flying_mass_g"), string.Create(CultureInfo.InvariantCulture,
                $"max_flying_mass_g {airframe.MaxFlyingMassG} is below unballasted_mass_g {airframe.UnballastedMassG}; expected the limit with ballast"));
        }
        // Mass a whole span away from the centre of gravity, on average, is no aeroplane.
        if (airframe.PitchInertiaKgM2 > Math.Max(airframe.UnballastedMassG, airframe.MaxFlyingMassG ?? 0) / 1000 * airframe.WingSpanM * airframe.WingSpanM)
        {
            complaints.Add(LineOf(root, "pitch_inertia_kg_m2"), string.Create(CultureInfo.InvariantCulture,
                $"pitch_inertia_kg_m2 {airframe.PitchInertiaKgM2} does not go with unballasted_mass_g {airframe.UnballastedMassG} and wing_span_mm {airframe.WingSpanMm}; "
                + $"expected about {airframe.UnballastedMassG / 1000 * Math.Pow(airframe.WingSpanM / 10, 2):0.####}, is it in kg m²?"));
        }
    }

    private static AirfoilPolar? Polar(string? file, CommentedJson root, Func<string, TextReader?>? openBeside, Complaints complaints)
    {
        if (file is null)
        {
            return null;
        }
        int line = LineOf(root, "airfoil_polar");
        if (FileNames.Complaint(file) is { } complaint)
        {
            complaints.Add(line, $"airfoil_polar \"{file}\" {complaint}; expected the name of a CSV file beside this one");
            return null;
        }
        using TextReader? reader = openBeside?.Invoke(file);
        if (reader is null)
        {
            complaints.Add(line, $"airfoil_polar \"{file}\" is not there; expected the name of a CSV file beside this one");
            return null;
        }
        return AirfoilPolarFile.Read(reader, file);
    }

    private static int LineOf(CommentedJson root, string key) => root.Members.FirstOrDefault(m => m.Key == key).Line;
}
