using ThermalTrace.Ballast;
using ThermalTrace.Reports.Fitting;
using ThermalTrace.Sessions;
using Xunit.Abstractions;

namespace ThermalTrace.Tests.Ballast;

/// <summary>What holds of every answer, whatever the stock.</summary>
public class PieceFitterPropertyTests(ITestOutputHelper output)
{
    private const int Seed = 20261204, OfASort = 25;

    private IEnumerable<(PieceQuestion Question, FittedWay? Best)> Answers()
    {
        output.WriteLine($"seed {Seed}");
        System.Random random = new(Seed);
        foreach (string sort in PieceQuestions.Sorts)
        {
            for (int i = 0; i < OfASort; i++)
            {
                PieceQuestion question = PieceQuestions.Of(sort, random);
                yield return (question, PieceQuestions.Best(question));
            }
        }
    }

    private static FittedWay? With(PieceQuestion question, Func<Airframe, Airframe> change) => PieceQuestions.Best(question with { Airframe = change(question.Airframe) });

    private static double Bare(Airframe airframe) => airframe.CgMm ?? airframe.BallastTube?.CentreMm ?? 0;

    [Fact]
    public void EveryFitting_KeepsTubeBoreAndLimits_AndItsOwnSums()
    {
        foreach ((PieceQuestion question, FittedWay? best) in Answers())
        {
            if (best is null)
            {
                continue;
            }
            Airframe airframe = question.Airframe;
            double mass = best.Pieces.Sum(p => p.Piece.MassG), bare = airframe.UnballastedMassG;
            Assert.Equal(mass, best.MassG, 1e-9);
            Assert.True(mass <= question.HeaviestG + 1e-5, $"{mass} g of {question.HeaviestG}");
            Assert.All(airframe.BallastStock, p => Assert.True(best.Pieces.Count(f => ReferenceEquals(f.Piece, p)) <= p.Count));
            for (int i = 1; i < best.Pieces.Count; i++)
            {
                FittedPiece a = best.Pieces[i - 1], b = best.Pieces[i];
                Assert.Equal(a.CentreMm + a.Piece.LengthMm / 2, b.CentreMm - b.Piece.LengthMm / 2, 1e-4); // touch; without a tube the numbers are large
            }
            if (airframe.BallastTube is { } tube)
            {
                Assert.Equal(tube.LengthMm, best.FrontMm + best.RearMm + best.Pieces.Sum(p => p.Piece.LengthMm), 2e-6);
                Assert.True(best.FrontMm >= 0 && best.RearMm >= 0);
                Assert.All(best.Pieces, p => Assert.True(p.Piece.DiameterMm <= tube.BoreMm + 1e-6));
                Assert.All(best.Pieces.Take(1), p => Assert.Equal(tube.CentreMm - tube.LengthMm / 2 + best.FrontMm, p.CentreMm - p.Piece.LengthMm / 2, 1e-9));
            }
            double cg = (bare * Bare(airframe) + best.Pieces.Sum(p => p.Piece.MassG * p.CentreMm)) / (bare + mass);
            bool known = airframe is { CgMm: not null, BallastTube: not null };
            if (known && airframe.CgLimitsMm is { } limits)
            {
                Assert.InRange(cg, limits.ForwardMm - 1e-6, limits.AftMm + 1e-6);
            }
            double off = known ? cg - Bare(airframe) - question.ShiftMm : 0;
            Assert.Equal(off, best.CgOffMm, 1e-6);
            // As wished: mass within half a per cent, half a gram at least, and the centre of gravity within a quarter of a millimetre; the key is in steps.
            bool right = Math.Abs(mass - question.AskedG) <= Math.Max(0.5, 0.005 * bare) * (1 + 1e-6) && Math.Abs(off) <= 0.25 * (1 + 1e-6);
            Assert.Equal(right, FittingEntries.Of(airframe, question.AskedG, question.ShiftMm, best, null, []).AsWished);
        }
    }

    [Fact]
    public void TheOrderOfEntries_AndSplittingThem_ChangeNothingButNames()
    {
        System.Random shuffle = new(Seed);
        foreach ((PieceQuestion question, FittedWay? best) in Answers())
        {
            FittedWay? turned = With(question, a => a with { BallastStock = [.. a.BallastStock.OrderBy(_ => shuffle.Next())] });
            FittedWay? split = With(question, a => a with { BallastStock = [.. a.BallastStock.SelectMany(p => Enumerable.Range(0, p.Count).Select(i => p with { Name = $"{p.Name}.{i}", Count = 1 }))] });
            foreach (FittedWay? other in (FittedWay?[])[turned, split, PieceQuestions.Best(question)])
            {
                Assert.Equal(best?.Key, other?.Key);
                Assert.Equal(best?.Pieces.Select(p => (p.Piece.MassG, p.Piece.LengthMm, p.Piece.DiameterMm, p.CentreMm)), other?.Pieces.Select(p => (p.Piece.MassG, p.Piece.LengthMm, p.Piece.DiameterMm, p.CentreMm)));
            }
            // The same question twice gives the same names, too.
            Assert.Equal(best?.Pieces, PieceQuestions.Best(question)?.Pieces);
        }
    }

    [Fact]
    public void MovingTheDatum_MovesCentres_AndNothingElse()
    {
        const double by = 37.5;
        foreach ((PieceQuestion question, FittedWay? best) in Answers())
        {
            FittedWay? moved = With(question, a => a with
            {
                CgMm = a.CgMm + by,
                CgLimitsMm = a.CgLimitsMm is { } l ? (l.ForwardMm + by, l.AftMm + by) : null,
                BallastTube = a.BallastTube is { } t ? t with { CentreMm = t.CentreMm + by } : null,
            });
            Assert.Equal(best is null, moved is null);
            if (best is not null && moved is not null)
            {
                Assert.Equal((best.Key.Off, best.Key.Mass, best.Key.Cg, best.Key.Count), (moved.Key.Off, moved.Key.Mass, moved.Key.Cg, moved.Key.Count));
                Assert.InRange(moved.Key.Inertia - best.Key.Inertia, -1, 1);
                Assert.All(best.Pieces.Zip(moved.Pieces), p => Assert.Equal(p.First.Piece.LengthMm, p.Second.Piece.LengthMm));
                Assert.All(best.Pieces.Zip(moved.Pieces), p => Assert.Equal(p.First.CentreMm + (question.Airframe.BallastTube is null ? p.Second.CentreMm - p.First.CentreMm : by), p.Second.CentreMm, 1e-6));
            }
        }
    }

    [Fact]
    public void OnePieceMore_OrALongerTube_IsNeverWorse()
    {
        System.Random random = new(Seed + 1);
        foreach ((PieceQuestion question, FittedWay? best) in Answers())
        {
            BallastPiece piece = new("one more", "brass", Math.Round(1 + 30 * random.NextDouble(), 1), 6, Math.Round(3 + 20 * random.NextDouble(), 1), 1);
            FittedWay? more = With(question, a => a with { BallastStock = [piece, .. a.BallastStock] });
            Assert.True(best is null || more!.Key.CompareTo(best.Key, FitAim.AsAsked) <= 0, $"with {piece} {more?.Key}, before {best?.Key}");
            // Both ends farther away: every place there was is still there.
            FittedWay? longer = With(question, a => a with { BallastTube = a.BallastTube is { } t ? t with { LengthMm = t.LengthMm + 30 * random.NextDouble() } : null });
            Assert.True(best is null || longer!.Key.CompareTo(best.Key, FitAim.AsAsked) <= 0 || longer.Key with { Inertia = best.Key.Inertia } == best.Key && longer.Key.Inertia - best.Key.Inertia <= 1,
                $"with a longer tube {longer?.Key}, before {best?.Key}");
        }
    }

    [Fact]
    public void MassesOfAllSteps_Rise()
    {
        foreach ((PieceQuestion question, FittedWay? best) in Answers().Where((_, i) => i % 3 == 0))
        {
            PieceFitter fitter = new(question.Airframe, question.ShiftMm, question.HeaviestG);
            double[] masses = best is null ? [] : [.. Enumerable.Range(0, 25).Select(i => fitter.Fit(3.7 * i, 1).Ways[0].MassG)];
            Assert.All(masses.Zip(masses.Skip(1)), p => Assert.True(p.Second >= p.First - 1e-9, string.Join(", ", masses)));
        }
    }
}
