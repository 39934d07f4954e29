using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Advice;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Advice;

public sealed class GlideInformationTests
{
    private const double MassKg = 0.25;

    private static readonly Prediction Predicted = Prediction.For(new Airframe { Name = "Tansy", WingSpanMm = 1500, WingAreaDm2 = 21.3, UnballastedMassG = 250 });
    private static readonly DragTerms Terms = new(Predicted, 2, 0, 1, 0.1);

    private static GlideInformation On(AirNoise noise, double windErrorMps = 1e-4, double worth = 1) =>
        new(Terms, Predicted.Planform, Terms.PredictedMean(), new TestDay(noise, windErrorMps, worth));

    private static double OfAllDrag(Matrix<double> information) =>
        information.SubMatrix(DragTerms.Physical, DragTerms.Nodes, DragTerms.Physical, DragTerms.Nodes).Enumerate().Sum();

    private static AirNoise Still => new(1e-6, 3, 1e-6, 60, 0.2);

    // In still air the slope of a line through n heights a second apart has the variance 12 σ²/(n (n² − 1)).
    [Fact]
    public void Information_OfALegInStillAir_IsThatOfALinesSlope()
    {
        const int n = 20;
        GlideInformation glides = On(Still);
        double sink = glides.SinkMps(7, MassKg, 0), variance = 0.2 * 0.2 + 0.1 * 0.1;

        double found = OfAllDrag(glides.Of(MassKg, 0, [new PlannedLeg(7, n, 0)]));

        Assert.Equal(sink * sink * n * (n * n - 1) / 12 / variance, found, 0.01 * found);
    }

    // Long in moving air the mean's variance is 2 σ² τ/T: as many independent pieces as memories.
    [Fact]
    public void Information_OfALongLegInMovingAir_IsThatOfItsMean()
    {
        const double seconds = 600;
        GlideInformation glides = On(new AirNoise(0.35, 3, 1e-6, 60, 1e-3));
        double sink = glides.SinkMps(7, MassKg, 0);

        double found = OfAllDrag(glides.Of(MassKg, 0, [new PlannedLeg(7, seconds, 0)]));

        Assert.Equal(sink * sink * seconds / (2 * 0.35 * 0.35 * 3), found, 0.05 * found);
    }

    [Fact]
    public void OppositeLegs_LoseLessToTheWindsErrorThanLegsOneWay()
    {
        AirNoise quiet = new(0.05, 3, 0.01, 60, 0.05);
        GlideInformation known = On(quiet), unknown = On(quiet, windErrorMps: 1);
        PlannedLeg[] pair = [new(10, 20, 0), new(10, 20, Math.PI)], oneWay = [new(10, 20, 0), new(10, 20, 0)];

        double Kept(PlannedLeg[] legs) => OfAllDrag(unknown.Of(MassKg, 0, legs)) / OfAllDrag(known.Of(MassKg, 0, legs));

        Assert.InRange(Kept(pair), 0.9, 1);
        Assert.InRange(Kept(oneWay), 0, 0.5);
    }

    [Fact]
    public void Information_TouchesItsOwnBallastAlone()
    {
        Matrix<double> information = On(Still).Of(MassKg, 1, [new PlannedLeg(7, 20, 0)]);

        Assert.Equal(0, information[DragTerms.Common, DragTerms.Common]);
        Assert.True(information[DragTerms.Common + 1, DragTerms.Common + 1] > 0);
    }

    [Fact]
    public void Information_GoesWithWhatAGlideIsWorth() =>
        Assert.Equal(2.5 * OfAllDrag(On(Still).Of(MassKg, 0, [new PlannedLeg(7, 20, 0)])), OfAllDrag(On(Still, worth: 2.5).Of(MassKg, 0, [new PlannedLeg(7, 20, 0)])), 6);
}
