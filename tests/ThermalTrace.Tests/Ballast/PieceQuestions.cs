using ThermalTrace.Ballast;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Ballast;

/// <summary>A stock, a tube, a model and what is asked of them.</summary>
internal sealed record PieceQuestion(Airframe Airframe, double AskedG, double ShiftMm, double HeaviestG);

/// <summary>Questions at the edges of what the search takes for granted, small enough to try everything.</summary>
internal static class PieceQuestions
{
    /// <summary>The sorts.</summary>
    public static readonly string[] Sorts =
    [
        "as bought", "no centre of gravity", "no tube", "one density", "last milligram", "ounces", "tube exactly full", "limits of the centre of gravity that bind",
        "mass limit that binds", "alike under other names", "more than there is", "far from the centre of gravity",
    ];

    /// <summary>What the search finds; null where the limits of the centre of gravity forbid everything.</summary>
    public static FittedWay? Best(PieceQuestion question) => new PieceFitter(question.Airframe, question.ShiftMm, question.HeaviestG).Fit(question.AskedG, 1).Ways is [{ } way] ? way : null;

    /// <summary>One of a sort.</summary>
    public static PieceQuestion Of(string sort, System.Random random)
    {
        double Between(double low, double high, double step) => Math.Round((low + (high - low) * random.NextDouble()) / step) * step;
        double Mass(double perMm3, double diameter, double length) => Math.PI / 4 * diameter * diameter * length * perMm3;
        List<BallastPiece> stock = [];
        bool names = sort == "alike under other names";
        for (int owned = random.Next(1, 7); owned > 0;)
        {
            int count = Math.Min(random.Next(1, 4), owned);
            bool dense = random.Next(2) == 0;
            double diameter = Between(6, 10, 0.5), length = Between(4, 40, 0.5), mass = Math.Round(Mass(dense ? 0.0175 : 0.0085, diameter, length), 1);
            switch (sort)
            {
                case "one density":
                    (length, mass) = (Math.Round(length), Math.Round(length) * 0.5);
                    break;
                case "last milligram":
                    (mass, length) = (10 + random.Next(-3, 4) * 0.001 + random.Next(2) * 0.0004, random.Next(2) == 0 ? 12 : 12.5);
                    break;
                case "ounces":
                    mass = random.Next(1, 9) * 28.349523125 / 8;
                    length = Math.Round(mass / (0.5 + random.NextDouble()), 2);
                    break;
                default:
                    break;
            }
            for (int i = 0; i < (names ? count : 1); i++)
            {
                stock.Add(new BallastPiece($"piece {stock.Count + 1}", dense ? "tungsten alloy" : "brass", Math.Max(mass, 0.1), diameter, length, names ? 1 : count));
            }
            owned -= count;
        }
        double cg = Between(60, 90, 0.5), away = sort == "far from the centre of gravity" ? Between(-60, 60, 1) : Between(-20, 20, 1);
        double some = stock.Sum(p => p.MassG * random.Next(p.Count + 1)), all = stock.Sum(p => p.MassG * p.Count);
        double forward = cg + (random.Next(2) == 0 ? Between(-1, 0.5, 0.1) : Between(-3, -1, 0.1));
        Airframe airframe = new()
        {
            Name = "Teasel",
            WingSpanMm = 1500,
            WingAreaDm2 = 22,
            UnballastedMassG = Between(200, 320, 1),
            CgMm = sort == "no centre of gravity" ? null : cg,
            CgLimitsMm = sort == "limits of the centre of gravity that bind" ? (forward, forward + Between(0.1, 2, 0.1)) : null,
            BallastTube = sort == "no tube" ? null : new BallastTube(Between(8, 11, 0.5), Between(30, 160, 1), cg + away),
            BallastStock = stock,
        };
        if (sort == "tube exactly full")
        {
            double length = stock.Sum(p => p.LengthMm * random.Next(1, p.Count + 1));
            airframe = airframe with { BallastTube = airframe.BallastTube! with { LengthMm = length, BoreMm = 10.5 } };
        }
        double asked = sort == "more than there is" ? all + Between(0, 100, 1) : random.Next(2) == 0 ? Between(0, all, 0.1) : some + Between(-0.3, 0.3, 0.1);
        double shift = random.Next(3) switch { 0 => 0, 1 => -Between(0, 1.5, 0.1), _ => Between(0, 1.5, 0.1) };
        double heaviest = sort == "mass limit that binds" ? some + random.Next(-1, 2) * 0.0005 : 1000;
        return new PieceQuestion(airframe, Math.Max(asked, 0.1), sort is "no tube" or "no centre of gravity" ? 0 : shift, Math.Max(heaviest, 0.1));
    }
}
