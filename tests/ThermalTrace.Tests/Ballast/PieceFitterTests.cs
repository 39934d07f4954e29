using ThermalTrace.Ballast;
using ThermalTrace.Sessions;
using Xunit.Abstractions;

namespace ThermalTrace.Tests.Ballast;

public class PieceFitterTests(ITestOutputHelper output)
{
    private const int Seed = 20261126, Stocks = 1000;

    [Fact]
    public void BestWay_OfAThousandRandomStocks_IsThatOfTryingEverything()
    {
        output.WriteLine($"seed {Seed}");
        System.Random random = new(Seed);
        int right = 0, atAnEnd = 0, several = 0, outsideRule = 0;
        for (int i = 0; i < Stocks; i++)
        {
            (Airframe airframe, double asked, double shift, double heaviest) = Question(random);
            FittedWay? found = new PieceFitter(airframe, shift, heaviest).Fit(asked, 1).Ways is [{ } way] ? way : null;
            EveryWay.Way[] ways = [.. EveryWay.Of(airframe, asked, shift, heaviest)];
            if (ways.Length == 0)
            {
                Assert.Null(found);
                continue;
            }
            EveryWay.Way best = ways.Aggregate((a, b) => b.Key.CompareTo(a.Key, FitAim.AsAsked) < 0 ? b : a);
            Assert.True(found is not null && Same(best.Key, found.Key), $"stock {i}: found {found?.Key}, by trying everything {best.Key}");
            right += best.Key.Off == 0 ? 1 : 0;
            atAnEnd += best.Key.Off > 0 ? 1 : 0;
            outsideRule += ways.Where(w => w.Falling).All(w => best.Key.CompareTo(w.Key, FitAim.AsAsked) < 0) ? 1 : 0;
            several += best.Pieces.Count > 2 ? 1 : 0;
        }
        output.WriteLine($"{right} right, {atAnEnd} not, {several} of three pieces and more, {outsideRule} in an order outside the rule");
        // The stocks are of all kinds, so that the comparison means something.
        Assert.True(right > 300 && atAnEnd > 300 && several > 150 && outsideRule > 0);
    }

    public static TheoryData<string> Sorts => [.. PieceQuestions.Sorts];

    [Theory]
    [MemberData(nameof(Sorts))]
    public void BestWay_AtTheEdgesOfWhatTheSearchTakesForGranted_IsThatOfTryingEverything(string sort)
    {
        output.WriteLine($"seed {Seed + 3}");
        System.Random random = new(Seed + 3);
        int found = 0;
        for (int i = 0; i < 60; i++)
        {
            PieceQuestion question = PieceQuestions.Of(sort, random);
            FittedWay? way = PieceQuestions.Best(question);
            EveryWay.Way[] ways = [.. EveryWay.Of(question.Airframe, question.AskedG, question.ShiftMm, question.HeaviestG)];
            if (ways.Length == 0)
            {
                Assert.Null(way);
                continue;
            }
            EveryWay.Way best = ways.Aggregate((a, b) => b.Key.CompareTo(a.Key, FitAim.AsAsked) < 0 ? b : a);
            Assert.True(way is not null && Same(best.Key, way.Key), $"stock {i}: found {way?.Key}, by trying everything {best.Key}");
            found += best.Pieces.Count > 0 ? 1 : 0;
        }
        Assert.True(found > 25, $"{found}");
    }

    [Fact]
    public void BestWay_WhereTheTubesEndsAreFar_HasTheLeastInertiaOfAllOrders()
    {
        output.WriteLine($"seed {Seed + 1}");
        System.Random random = new(Seed + 1);
        int compared = 0;
        for (int i = 0; i < 300; i++)
        {
            (Airframe airframe, double asked, double shift, _) = Question(random);
            airframe = airframe with { BallastTube = airframe.BallastTube! with { LengthMm = 800, BoreMm = 11 }, CgLimitsMm = null };
            FittedWay found = new PieceFitter(airframe, shift, 1000).Fit(asked, 1).Ways[0];
            EveryWay.Way[] alike = [.. EveryWay.Of(airframe, asked, shift, 1000).Where(w => Math.Abs(w.MassG - found.MassG) < 1e-6 && w.Key.Cg == 0)];
            if (found.Pieces.Count == 0)
            {
                continue; // what was asked for is so little that nothing comes nearest
            }
            Assert.Equal(0, found.Key.Cg);
            Assert.Equal(alike.Min(w => w.InertiaKgM2), found.Key.Inertia * 1e-12, 2e-12);
            compared += alike.Length;
        }
        Assert.True(compared > 3000, $"{compared} orders");
    }

    [Fact]
    public void OtherWays_OfRandomStocks_AreAsGoodAsTheyAreSaidToBe_AndNoneIsMissed()
    {
        output.WriteLine($"seed {Seed + 2}");
        System.Random random = new(Seed + 2);
        int fewer = 0;
        for (int i = 0; i < 200; i++)
        {
            (Airframe airframe, double asked, double shift, double heaviest) = Question(random);
            IReadOnlyList<FittedWay> found = new PieceFitter(airframe, shift, heaviest).Fit(asked, 5).Ways;
            EveryWay.Way[] ways = [.. EveryWay.Of(airframe, asked, shift, heaviest)];
            Assert.All(found, f => Assert.Contains(ways, w => Same(w.Key, f.Key)));
            Assert.Equal(found.Select(f => f.Key).OrderBy(k => k, Comparer<FitKey>.Create((a, b) => a.CompareTo(b, FitAim.AsAsked))), found.Select(f => f.Key));
            Assert.All(found.Skip(1), f => Assert.DoesNotContain(found.Skip(1), other => other != f && other.Key.IsNoWorse(f.Key)));
            EveryWay.Way[] right = [.. ways.Where(w => w.Key.Off == 0)];
            if (found.Count is > 1 and < 5 && right.Length > 0)
            {
                Assert.Equal(right.Min(w => w.Key.Count), found.Where(f => f.Key.Off == 0).Min(f => f.Key.Count));
                fewer += right.Min(w => w.Key.Count) < found[0].Key.Count ? 1 : 0;
            }
        }
        Assert.True(fewer > 1, $"{fewer} with fewer pieces than the best");
    }

    /// <summary>Equal but for the rounding of a sum at the edge of a step.</summary>
    private static bool Same(FitKey a, FitKey b) => a.Off == b.Off && a.Mass == b.Mass && a.Cg == b.Cg && a.Count == b.Count && Math.Abs(a.Inertia - b.Inertia) <= 1;

    private static (Airframe Airframe, double AskedG, double ShiftMm, double HeaviestG) Question(System.Random random)
    {
        double Between(double low, double high, double step) => Math.Round((low + (high - low) * random.NextDouble()) / step) * step;
        List<BallastPiece> stock = [];
        for (int owned = random.Next(1, 7); owned > 0;)
        {
            int count = Math.Min(random.Next(1, 4), owned);
            bool dense = random.Next(2) == 0;
            double diameter = Between(6, 10, 0.5), length = Between(4, 40, 0.5);
            double mass = Math.Round((dense ? 0.0175 : 0.0085) * Math.PI / 4 * diameter * diameter * length, 1);
            stock.Add(new BallastPiece($"piece {stock.Count + 1}", dense ? "tungsten alloy" : "brass", mass, diameter, length, count));
            owned -= count;
        }
        double cg = Between(60, 90, 0.5);
        Airframe airframe = new()
        {
            Name = "Teasel",
            WingSpanMm = 1500,
            WingAreaDm2 = 22,
            UnballastedMassG = Between(200, 320, 1),
            CgMm = cg,
            CgLimitsMm = random.Next(3) == 0 ? (cg - Between(0.5, 4, 0.1), cg + Between(0.5, 4, 0.1)) : null,
            BallastTube = new BallastTube(Between(8, 11, 0.5), Between(30, 160, 1), cg + Between(-20, 20, 1)),
            BallastStock = stock,
        };
        double all = stock.Sum(p => p.MassG * p.Count);
        // Half of what is asked for can be made, so that the centre of gravity, inertia and number of pieces have to decide.
        double asked = random.Next(2) == 0 ? Between(0, all, 0.1) : stock.Sum(p => p.MassG * random.Next(p.Count + 1)) + Between(-0.3, 0.3, 0.1);
        return (airframe, Math.Max(asked, 0.1), random.Next(2) == 0 ? 0 : -Between(0, 1.5, 0.1), random.Next(4) == 0 ? all * random.NextDouble() : 1000);
    }
}
