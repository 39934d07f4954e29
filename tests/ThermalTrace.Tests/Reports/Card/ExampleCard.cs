using ThermalTrace.Reports.Card;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Reports.Card;

/// <summary>A card from geometry alone, and ways to look into it that share no code with the page.</summary>
internal static class ExampleCard
{
    /// <summary>A name that would be markup, script or path anywhere but in text.</summary>
    public const string Name = "Tansy </script><script>window.hit=1</script><img src=x onerror=\"window.hit=2\"> & 'co'";

    public static Airframe Airframe { get; } = new()
    {
        Name = Name,
        WingSpanMm = 1500,
        WingAreaDm2 = 22.4,
        UnballastedMassG = 262,
        MaxFlyingMassG = 360,
        BallastOptionsG = [0, 30, 60, 90, 120],
    };

    private static readonly Lazy<CardDocument> LazyDocument = new(() => FieldCard.Run(Season.Tune(Airframe, []), new FieldCardOptions { Made = "2026-06-14" }));
    private static readonly Lazy<string> LazyPage = new(() => Write(Document));

    public static CardDocument Document => LazyDocument.Value;

    public static string Page => LazyPage.Value;

    public static string Write(CardDocument document)
    {
        using StringWriter writer = new();
        CardPage.Write(writer, document);
        return writer.ToString();
    }

    public static int Cell(CardGrid grid, double wind, double lift, double edr) =>
        (At(grid.WindMps, wind) * grid.LiftMps.Count + At(grid.LiftMps, lift)) * grid.Edr.Count + At(grid.Edr, edr);

    /// <summary>Net climb of an option anywhere, by straight lines between the grid's points.</summary>
    public static double Trip(CardGrid grid, int option, double wind, double lift, double edr)
    {
        double sum = 0;
        foreach ((int w, double share) in Sides(grid.WindMps, wind))
        {
            foreach ((int l, double other) in Sides(grid.LiftMps, lift))
            {
                foreach ((int e, double third) in Sides(grid.Edr, edr))
                {
                    sum += share * other * third * grid.Options[option].RoundTripClimbMps[(w * grid.LiftMps.Count + l) * grid.Edr.Count + e]!.Value;
                }
            }
        }
        return sum;
    }

    private static IEnumerable<(int Index, double Share)> Sides(IReadOnlyList<double> axis, double value)
    {
        int upper = Math.Max(axis.TakeWhile(a => a < value).Count(), 1);
        double share = (value - axis[upper - 1]) / (axis[upper] - axis[upper - 1]);
        return [(upper - 1, 1 - share), (upper, share)];
    }

    private static int At(IReadOnlyList<double> axis, double value)
    {
        int index = axis.ToList().FindIndex(a => Math.Abs(a - value) < 1e-9);
        return index >= 0 ? index : throw new ArgumentOutOfRangeException(nameof(value));
    }
}
