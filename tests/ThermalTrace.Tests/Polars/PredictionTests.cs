using ThermalTrace.Polars;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Polars;

public class PredictionTests
{
    // Flat plate, one side: 1.328/√Re (Blasius) and 0.455/(log10 Re)^2.58 (Prandtl–Schlichting); Schlichting,
    // Boundary-Layer Theory, from memory; figures computed.
    [Theory]
    [InlineData(1e5, 0.0041995, 0.0071560)]
    [InlineData(5e5, 0.0018781, 0.0051057)]
    public void FlatPlate_LaminarAndTurbulent_HasTheTextbooksFriction(double reynolds, double laminar, double turbulent)
    {
        Assert.Equal(laminar, Prediction.LaminarPlate(reynolds), 5.1e-8);
        Assert.Equal(turbulent, Prediction.TurbulentPlate(reynolds), 5.1e-8);
        Assert.InRange(Prediction.SkinFriction(reynolds), laminar, turbulent);
    }

    // NACA 2406 by an open section program at default panels, Ncrit 9, free transition: computed, not measured.
    private static readonly (double Reynolds, double Cl, double Cd)[] Naca2406 =
    [
        (60e3, 0.1182, 0.01421), (60e3, 0.2946, 0.01740), (60e3, 0.6780, 0.01901),
        (100e3, 0.1256, 0.01148), (100e3, 0.4101, 0.01393), (100e3, 0.6727, 0.01271),
        (200e3, 0.1740, 0.00861), (200e3, 0.4752, 0.00827), (200e3, 0.6632, 0.01007),
    ];

    [Fact]
    public void SectionPolar_FallingWithReynoldsNumber_IsSharperThanGeometryAndFallsToo()
    {
        Prediction geometry = Prediction.For(Model()), section = Prediction.For(WithSection(Naca2406));
        Assert.True(section.Spread.Cd0 / section.Curve.Cd0 < geometry.Spread.Cd0 / geometry.Curve.Cd0);
        // From 60 k to 200 k the table's drag at like lift falls with a power of 0.42 (alpha 0) to 0.53 (alpha 4) of Re.
        Assert.InRange(section.Curve.ReynoldsExponent, 0.3, 0.65);
    }

    [Fact]
    public void SectionPolar_OfTheCurvesOwnShape_IsFoundAgain()
    {
        double[] lifts = [0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8];
        Prediction prediction = Prediction.For(WithSection([.. new[] { 60e3, 100e3, 200e3 }.SelectMany(reynolds =>
            lifts.Select(cl => (reynolds, cl, 0.010 * Math.Pow(reynolds / 1e5, -0.5) + 0.02 * (cl - 0.4) * (cl - 0.4))))]));
        Assert.Equal(0.5, prediction.Curve.ReynoldsExponent, 0.03);
        Assert.Equal(0.02, prediction.Curve.ProfileRise, 0.002);
        Assert.Equal(0.4, prediction.Curve.LeastDragCl, 0.02);
    }

    [Fact]
    public void Prediction_OfAModelGlider_HasAPlausibleBestGlideAndSpread()
    {
        Prediction prediction = Prediction.For(Model());
        Assert.InRange(prediction.Planform.ReferenceReynolds, 5e4, 1e5);
        Assert.InRange(prediction.Spread.Cd0 / prediction.Curve.Cd0, 0.15, 0.25);
        double cl = 0.6, cd = prediction.Curve.Cd(cl, 1, prediction.Planform.AspectRatio);
        Assert.InRange(cl / cd, 12, 25);
    }

    private static Airframe WithSection(IReadOnlyList<(double Reynolds, double Cl, double Cd)> table) => Model() with
    {
        AirfoilPolar = new AirfoilPolar([.. table.Select(p => p.Reynolds)], [.. table.Select(p => p.Cl)], [.. table.Select(p => p.Cd)]),
    };

    private static Airframe Model() => new() { Name = "test", WingSpanMm = 1500, WingAreaDm2 = 22.4, UnballastedMassG = 262 };
}
