using ThermalTrace.Learning;
using ThermalTrace.Polars;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Advice;
using ThermalTrace.Tests.Logbook;

namespace ThermalTrace.Tests.Learning;

public sealed class BasisChangeTests
{
    private static readonly Airframe Right = AdviceModels.Tansy with { MeanChordMm = 142 };

    // What flew drags 7 % more than its true geometry lets expect.
    private static readonly Func<double, double, double> Truth = MadeUpDay.Drag(Right, 0.07);

    [Theory]
    [InlineData("area")]
    [InlineData("chord")]
    [InlineData("area, chord and mass")]
    public void AirframePutRight_SinkFromOldEvidence_IsThatOfNewEvidence(string wrong)
    {
        Airframe before = wrong switch
        {
            "area" => Right with { WingAreaDm2 = Right.WingAreaDm2 / 1.05 },
            "chord" => Right with { MeanChordMm = Right.MeanChordMm / 1.05 },
            _ => Right with { WingAreaDm2 = Right.WingAreaDm2 * 1.05, MeanChordMm = Right.MeanChordMm * 1.05, UnballastedMassG = Right.UnballastedMassG * 1.04 },
        };
        Prediction now = Prediction.For(Right);
        TunedDrag fresh = Tuned(Season(Right)), old = Tuned(Season(before));

        foreach ((double v, double mass) in TunedSink.Flown.Where(f => Flyable(now, f)))
        {
            double newer = TunedSink.At(fresh, now, v, mass, 0).Mps, older = TunedSink.At(old, now, v, mass, 0).Mps;
            Assert.True(Math.Abs(older / newer - 1) < 0.01, FormattableString.Invariant($"{wrong}: at {v} m/s and {mass} kg {older:0.0000} m/s, from new evidence {newer:0.0000}"));
        }
    }

    [Fact]
    public void OldEvidence_TakenAsIfItWereOfTheNewGeometry_WouldBeWrong()
    {
        // What the two tests above would pass without: an area 5 % off is drag 5 % off.
        SeasonSession[] mistaken = [.. Season(Right with { WingAreaDm2 = Right.WingAreaDm2 / 1.05 })
            .Select(s => s with { Evidence = s.Evidence with { Basis = DragBasis.Of(Prediction.For(Right)) } })];
        Prediction now = Prediction.For(Right);
        TunedDrag fresh = Tuned(Season(Right)), wrong = Tuned(mistaken);
        Assert.Contains(TunedSink.Flown.Where(f => Flyable(now, f)), f => Math.Abs(TunedSink.At(wrong, now, f.AirspeedMps, f.MassKg, 0).Mps / TunedSink.At(fresh, now, f.AirspeedMps, f.MassKg, 0).Mps - 1) > 0.03);
    }

    [Fact]
    public void NothingChanged_IsNoChange()
    {
        Prediction prediction = Prediction.For(Right);
        Assert.Null(BasisChange.From(DragBasis.Of(prediction), prediction, TunedDrag.Airframe + 2));
        Assert.NotNull(BasisChange.From(DragBasis.Of(Prediction.For(Right with { WingAreaDm2 = Right.WingAreaDm2 * 1.001 })), prediction, TunedDrag.Airframe + 2));
    }

    [Fact]
    public void Departures_OfBallasts_StayAsTheyAre()
    {
        MathNet.Numerics.LinearAlgebra.Matrix<double> change = BasisChange.From(DragBasis.Of(Prediction.For(Right with { WingAreaDm2 = 20 })), Prediction.For(Right), TunedDrag.Airframe + 2)!;
        for (int a = 0; a < TunedDrag.Airframe + 2; a++)
        {
            for (int b = TunedDrag.Airframe; b < TunedDrag.Airframe + 2; b++)
            {
                Assert.Equal(a == b ? 1 : 0, change[a, b]);
                Assert.Equal(a == b ? 1 : 0, change[b, a]);
            }
        }
    }

    [Fact]
    public void Basis_WrittenToResultsAndReadAgain_IsTheSame()
    {
        System.Random random = new(11);
        for (int k = 0; k < 40; k++)
        {
            Airframe airframe = new() { Name = "Tansy", WingSpanMm = 900 + 3000 * random.NextDouble(), WingAreaDm2 = 12 + 50 * random.NextDouble(), UnballastedMassG = 100 + 2000 * random.NextDouble() };
            Prediction prediction = Prediction.For(airframe);
            ResultsDocument document = MadeUpSession.Document(k);
            ResultsDocument read = ResultsJson.AsWritten(document with { Evidence = document.Evidence with { Basis = DragBasis.Of(prediction) } });
            Assert.Null(BasisChange.From(read.Evidence.Basis!, prediction, TunedDrag.Airframe));
        }
    }

    private static bool Flyable(Prediction prediction, (double AirspeedMps, double MassKg) f) => MadeUpDay.State(prediction.Planform, f.AirspeedMps, f.MassKg).Cl is > 0.15 and < 0.95;

    private static SeasonSession[] Season(Airframe airframe) =>
        [.. Enumerable.Range(0, 10).Select(s => new MadeUpDay { Airframe = airframe, DragAreaM2 = Truth, BallastsG = [0, 60, 120], Noise = 0.02 }.Session("s" + s))];

    private static TunedDrag Tuned(SeasonSession[] sessions) => SeasonModel.Tune(Right, sessions, 1).Drag;
}
