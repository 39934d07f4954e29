using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Air;
using ThermalTrace.Decisions;
using ThermalTrace.Polars;

namespace ThermalTrace.Calibration;

/// <summary>One part of what the sink bands account for, and the fit without it.</summary>
/// <param name="Name">As the table prints it.</param>
/// <param name="Without">The polar fitted with this part switched off.</param>
/// <param name="Spread">True where nothing but a spread is taken away, so that the band can be expected to narrow.</param>
internal sealed record Part(string Name, Func<Refit, Drag> Without, bool Spread = true)
{
    private const double Sure = 0.01; // of its own spread that a part keeps when it is switched off: matrices stay invertible
    private const double SureMps = 1e-3, SureWindM2ps2 = 1e-5; // the fit takes no determinant below 1e-12
    private const double Wider = 4;
    private const double WhiteS = 0.05; // far below a row's second

    /// <summary>Every part, in the order in which the debrief meets them.</summary>
    public static IReadOnlyList<Part> All { get; } =
    [
        new("phases: the true ones", r => r.WithTruePhases(), Spread: false),
        new("wind's error, flight by flight", r => r.With(WindKnown)),
        new("what all airspeeds are off in common", r => r.With(prior: (_, c) => Hold(c, DragTerms.Airspeed))),
        new("airspeed's quick errors and gusts: no correction", r => r.With(
            f => f with { Air = f.Air with { AirspeedVarianceM2ps2 = new double[f.Air.AirspeedVarianceM2ps2.Length] }, GustVarianceM2ps2 = 0 }), Spread: false),
        new("the same correction, taken as exact", r => r.With(prior: (_, c) => Hold(c, DragTerms.Gusts))),
        new("timing and static port", r => r.With(prior: (_, c) => Hold(c, DragTerms.Timing, 2))),
        new("sensor noise", r => r.WithoutSensorNoise()),
        new("air's sink between thermals: none", r => r.With(prior: (m, c) =>
        {
            m[DragTerms.AirSink] = 0;
            Hold(c, DragTerms.AirSink);
        }), Spread: false),
        new("the same sink, taken as exact", r => r.With(prior: (_, c) => Hold(c, DragTerms.AirSink))),
        new("air's memory: white noise alone", r => r.With(air: n => n with { QuickMps = n.QuickMps * Math.Sqrt(1 / (2 * WhiteS)), QuickS = WhiteS, SlowMps = SureMps })),
        new("air's slow motion", r => r.With(air: n => n with { SlowMps = SureMps })),
        new("hyperparameters, taken as known", r => r.AtTheMode()),
        new("drag's departure from the formula", r => r.With(prior: (_, c) => Hold(c, DragTerms.Physical, DragTerms.Nodes))),
        new("ballasts' own departures", r => r.With(prior: (_, c) => Hold(c, DragTerms.Common, r.Debrief.Drag.Options.Count))),
        new("prior from geometry four times as wide", r => r.With(prior: (_, c) => Scale(c, 0, DragTerms.Physical, Wider)), Spread: false),
        new("wind and every term but the formula's own at once: what is left is the air's motion", r => r.With(WindKnown, (_, c) =>
            Hold(c, DragTerms.Physical, DragTerms.Common + r.Debrief.Drag.Options.Count - DragTerms.Physical))),
    ];

    private static GlideFlight WindKnown(GlideFlight f) => f with { Air = f.Air with { Wind = Known(f.Air.Wind) } };

    private static MeanWind Known(MeanWind wind) => wind with { VarianceEast = SureWindM2ps2, VarianceNorth = SureWindM2ps2, CovarianceEastNorth = 0 };

    private static void Hold(Matrix<double> covariance, int first, int count = 1) => Scale(covariance, first, count, Sure);

    /// <summary>Standard deviations of some terms times a factor.</summary>
    private static void Scale(Matrix<double> covariance, int first, int count, double factor) =>
        covariance.SetSubMatrix(first, first, covariance.SubMatrix(first, count, first, count) * (factor * factor));
}
