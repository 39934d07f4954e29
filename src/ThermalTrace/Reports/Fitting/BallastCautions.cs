using ThermalTrace.Ballast;
using ThermalTrace.Sessions;

namespace ThermalTrace.Reports.Fitting;

/// <summary>What can hurt people, models and health about ballast, each in one sentence and in this place alone.</summary>
internal static class BallastCautions
{
    private const string Lead = "Lead is poisonous to handle, melt and file: work outdoors and with gloves, file it wet and never dry, keep it away from food and from children, and wash your hands.";

    /// <summary>For every ballast.</summary>
    public static IReadOnlyList<string> Always { get; } =
    [
        "Ballast lies inside the fuselage and is locked there, fore and aft too; pull on it by hand before the first launch of the day.",
        "Never put it against the battery, servo leads or pushrods.",
        "After every change weigh the model, balance it and check that all controls move freely.",
        "The maker's limits for flying mass and for the spar, and local rules on flying mass, stand above anything said here.",
    ];

    /// <summary>For how the model gets its height; null where that is not known.</summary>
    public static IReadOnlyList<string> ForLaunch(LaunchKind? launch) => launch switch
    {
        LaunchKind.Discus =>
        [
            "Keep the throwing circle clear: a mass that leaves a spinning model hurts people.",
            "A hard throw loads spar, tube and lock more with every gram and needs a limit of its own: ask the maker, begin gently.",
        ],
        LaunchKind.Winch or LaunchKind.Bungee or LaunchKind.Tow =>
            ["The line pulls harder on a heavier model: a winch or a bungee needs a limit of its own for mass and tension; ask the maker, begin gently."],
        LaunchKind.Hand => ["Nobody stands ahead of the throw: ballast that comes loose flies on. A hard throw needs a limit of its own; ask the maker."],
        LaunchKind.Electric => ["Climb and stall speed both change: make the first launch with full power at hand and room to come straight down again."],
        _ => ["A winch and a hard throw each need a limit of their own for mass; ask the maker. Nobody stands where ballast that comes loose would go."],
    };

    /// <summary>For what it is made of.</summary>
    /// <param name="materials">As <c>ballast_stock</c> or a pilot names them: free text, never repeated here.</param>
    public static IReadOnlyList<string> ByMaterial(IEnumerable<string> materials)
    {
        ArgumentNullException.ThrowIfNull(materials);
        Material?[] found = [.. materials.Select(Materials.Find)];
        bool Any(params Material[] of) => found.Any(f => f is not null && of.Contains(f));
        string[] dusty =
        [
            .. Any(Materials.Brass) ? ["brass"] : Array.Empty<string>(),
            .. Any([Materials.Tungsten, Materials.TungstenAlloy, .. Materials.AlloyClasses]) ? ["tungsten"] : Array.Empty<string>(),
        ];
        return
        [
            .. Any(Materials.Lead) ? [Lead] : Array.Empty<string>(),
            .. dusty.Length > 0 ? [$"Do not breathe the dust of {string.Join(" or ", dusty)}{(Any(Materials.Lead) ? " either" : "")}: saw and file it wet or with a mask, and wipe up."] : Array.Empty<string>(),
            .. found.Contains(null) ? ["Look up what the dust of your material does before you saw or file it."] : Array.Empty<string>(),
        ];
    }
}
