using System.Globalization;
using ThermalTrace.Sessions;

namespace ThermalTrace.Ballast;

/// <summary>The metals that ballast is made of. docs/models/stick.md.</summary>
internal static class Materials
{
    /// <summary>11.34 pure (CRC Handbook, from memory). Shot and cast weights are hardened with antimony, down to 10.9 at six per cent of it (from memory).</summary>
    public static Material Lead { get; } = new("lead", 11.34, 10.9, 11.35);

    /// <summary>8.49: C36000, free-cutting (Copper Development Association, from memory). Rolled brass 8.43 to 8.73 (tables).</summary>
    public static Material Brass { get; } = new("brass", 8.49, 8.43, 8.73);

    /// <summary>7.85: mild steel (tables). Tool steel from 7.75, stainless to 8.05 (from memory).</summary>
    public static Material Steel { get; } = new("steel", 7.85, 7.75, 8.05);

    /// <summary>
    /// 19.25 to 19.3 pure (CRC Handbook, from memory). Welding rods, as which it is mostly sold thin, have up to two per cent by mass of a light oxide in them, lanthana's 6.5 g/cm³
    /// (from memory) making 18.5 of the whole.
    /// </summary>
    public static Material Tungsten { get; } = new("tungsten", 19.25, 18.5, 19.3);

    /// <summary>Of an unknown class: the second, and the bounds of all four.</summary>
    public static Material TungstenAlloy { get; } = new("tungsten alloy", 17.5, 16.85, 18.85);

    /// <summary>ASTM B777 classes 1 to 4: nominal 17.0, 17.5, 18.0, 18.5, and each class's bounds (from memory).</summary>
    public static IReadOnlyList<Material> AlloyClasses { get; } =
    [
        new("tungsten alloy 17.0", 17.0, 16.85, 17.25), new("tungsten alloy 17.5", 17.5, 17.15, 17.85),
        new("tungsten alloy 18.0", 18.0, 17.75, 18.35), new("tungsten alloy 18.5", 18.5, 18.25, 18.85),
    ];

    /// <summary>What is looked at where nobody asked for anything else.</summary>
    public static IReadOnlyList<Material> Usual { get; } = [Lead, Brass, Steel, Tungsten, TungstenAlloy];

    /// <summary>All names that are known.</summary>
    public static IEnumerable<Material> All => [.. Usual, .. AlloyClasses];

    // Nothing that can be bought is denser than tungsten at its best.
    private const double DensestGCm3 = 19.3;

    // What a caliper and a pair of scales leave open, mm and g. Common practice, no source.
    private const double ReadMm = 0.05, ReadG = 0.05;

    /// <summary>The material that a text means, such as the one of a piece owned; null where it is none of them.</summary>
    /// <param name="text">Free text: "Lead", "tungsten alloy", "brass rod", "tungsten alloy class 2".</param>
    public static Material? Find(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        string[] words = text.ToLowerInvariant().Split([' ', '\t', '-', '_', ',', '/', '(', ')'], StringSplitOptions.RemoveEmptyEntries);
        bool Has(params string[] any) => words.Any(any.Contains);
        Material? alloy = AlloyClasses.Select((a, i) => (a, i)).FirstOrDefault(c => Numbers(words).Contains(c.a.DensityGCm3)
            || words.Zip(words.Skip(1)).Any(p => p.First == "class" && p.Second == (c.i + 1).ToString(CultureInfo.InvariantCulture))).a;
        Material[] named =
        [
            .. Has("tungsten", "wolfram") || (Has("heavy") && Has("alloy", "metal")) ? [Has("alloy", "heavy", "class") ? alloy ?? TungstenAlloy : Tungsten] : Array.Empty<Material>(),
            .. Has("lead") ? [Lead] : Array.Empty<Material>(),
            .. Has("brass") ? [Brass] : Array.Empty<Material>(),
            .. Has("steel") ? [Steel] : Array.Empty<Material>(),
        ];
        // "Brass and lead" is neither.
        return named.Length == 1 ? named[0] : null;
    }

    private static IEnumerable<double> Numbers(string[] words) =>
        words.Select(w => double.TryParse(w, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double n) ? n : double.NaN);

    /// <summary>A cylinder's mass, g.</summary>
    public static double CylinderG(double densityGCm3, double diameterMm, double lengthMm) => densityGCm3 * AreaMm2(diameterMm) * lengthMm / 1000;

    /// <summary>The length of a cylinder of that mass, mm.</summary>
    public static double CylinderLengthMm(double densityGCm3, double diameterMm, double massG) => massG * 1000 / (densityGCm3 * AreaMm2(diameterMm));

    private static double AreaMm2(double diameterMm) => Math.PI / 4 * diameterMm * diameterMm;

    /// <summary>
    /// What is wrong with a piece that is heavier than so much of its material can be; null where nothing is. A lighter one has a hole in it, which is fine.
    /// </summary>
    public static string? PieceDensityCaution(BallastPiece piece)
    {
        ArgumentNullException.ThrowIfNull(piece);
        Material? material = Find(piece.Material);
        double most = CylinderG(material?.HighGCm3 ?? DensestGCm3, piece.DiameterMm + ReadMm, piece.LengthMm + ReadMm);
        if (piece.MassG - ReadG <= most)
        {
            return null;
        }
        double density = piece.MassG / CylinderG(1, piece.DiameterMm, piece.LengthMm);
        return string.Create(CultureInfo.InvariantCulture,
            $"\"{piece.Name}\" of ballast_stock would have {density:0.0} g/cm3, and {(material is null ? $"no metal that can be bought has more than {DensestGCm3}" : $"{material.Name} has at most {material.HighGCm3:0.0#}")}: check its mass_g, diameter_mm and length_mm.");
    }
}
