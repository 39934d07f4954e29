using MathNet.Numerics.LinearAlgebra;

namespace ThermalTrace.Polars;

/// <summary>
/// The drag curve as a sum of terms, linear in what is estimated, with a Gaussian prior from the prediction: the physical
/// parameters (two of them by their tangent), a discrepancy that lets the curve be what no formula foresaw, one departure
/// for each ballast, changes for each camber setting, and how much quick airspeed changes add. docs/models/drag.md eq. 3.
/// </summary>
internal sealed class DragTerms
{
    public const int Cd0 = 0, Exponent = 1, Rise = 2, LeastCl = 3, Induced = 4, Stall = 5, Physical = 6;
    public const int Nodes = 9;
    public const int Gusts = Physical + Nodes;
    public const int AirSink = Gusts + 1;
    public const int Timing = AirSink + 1;
    public const int StaticPort = Timing + 1;
    public const int Airspeed = StaticPort + 1;
    public const int Common = Airspeed + 1;
    public const int CamberTerms = 3;

    private const double LowestLogCl = -2.3, HighestLogCl = 0.34; // CL 0.10 to 1.40
    private const double DiscrepancyShare = 0.05;  // of drag, one standard deviation
    private const double DiscrepancyLength = 0.4;  // in ln CL: a drag bucket's width
    private const double BallastShare = 0.015;     // a ballast's own departure: CG, seating, surface; a few per cent at most
    private const double GustSpread = 0.5;         // the curvature correction may be half or one and a half times

    // What is left of the satellite receiver's delay behind the barometer when both have been lined up, s; and the share of the
    // dynamic pressure that leaks into the static port. Both trade height for speed, and would pass for drag that changes with it.
    private const double TimingSpreadS = 0.15, StaticPortSpread = 0.02; // common practice, no source

    // What goes up in thermals comes down between them, where gliding is done: thermals of a core lift w0 that cover 1 to
    // 4 % of the sky leave 0.6 to 2.6 % of w0 as sink elsewhere (their mean lift is 0.63 w0). Continuity; share of sky from memory.
    private const double AirSinkShare = 0.012, AirSinkSpread = 0.018, LeastAirSinkMps = 0.01;

    private readonly Prediction _prediction;
    private readonly int _cambers;

    /// <param name="prediction">The prior.</param>
    /// <param name="ballasts">Number of ballasts with a departure of their own.</param>
    /// <param name="cambers">Number of camber settings; the first is the reference.</param>
    /// <param name="liftMps">Lift of the session's climbs, roughly, m/s; 0 without.</param>
    /// <param name="airspeedSpreadMps">By what all airspeeds of the session may be off in common, one standard deviation, m/s; above 0.</param>
    public DragTerms(Prediction prediction, int ballasts, int cambers, double liftMps, double airspeedSpreadMps)
    {
        _prediction = prediction;
        Ballasts = ballasts;
        _cambers = Math.Max(cambers, 1);
        Count = Common + ballasts + CamberTerms * (_cambers - 1);
        PriorMean = Vector<double>.Build.Dense(Count);
        PriorCovariance = Matrix<double>.Build.Dense(Count, Count);
        DragCurve mean = prediction.Curve, spread = prediction.Spread;
        void Set(int i, double value, double sd)
        {
            PriorMean[i] = value;
            PriorCovariance[i, i] = sd * sd;
        }
        Set(Cd0, mean.Cd0, spread.Cd0);
        Set(Exponent, 0, spread.ReynoldsExponent);
        Set(Rise, mean.ProfileRise, spread.ProfileRise);
        Set(LeastCl, 0, spread.LeastDragCl);
        Set(Induced, mean.InverseSpanEfficiency, spread.InverseSpanEfficiency);
        Set(Stall, mean.StallRise, spread.StallRise);
        for (int a = 0; a < Nodes; a++)
        {
            for (int b = 0; b < Nodes; b++)
            {
                double apart = (a - b) * NodeStep / DiscrepancyLength;
                PriorCovariance[Physical + a, Physical + b] = DiscrepancyShare * DiscrepancyShare * Math.Exp(-0.5 * apart * apart);
            }
            PriorCovariance[Physical + a, Physical + a] += 1e-6; // keeps the smooth kernel's matrix invertible
        }
        Set(Gusts, 1, GustSpread);
        Set(AirSink, AirSinkShare * liftMps, Math.Sqrt(LeastAirSinkMps * LeastAirSinkMps + AirSinkSpread * AirSinkSpread * liftMps * liftMps));
        Set(Timing, 0, TimingSpreadS);
        Set(StaticPort, 0, StaticPortSpread);
        Set(Airspeed, 0, airspeedSpreadMps);
        for (int b = 0; b < ballasts; b++)
        {
            Set(Common + b, 0, BallastShare);
        }
        for (int c = 0; c < _cambers - 1; c++)
        {
            int at = Common + ballasts + CamberTerms * c;
            Set(at, 0, 0.3 * mean.Cd0);
            Set(at + 1, 0, 0.03);
            Set(at + 2, 0, 0.03);
        }
        PriorPrecision = Inverse(PriorCovariance);
    }

    private DragTerms(DragTerms from, Vector<double> mean, Matrix<double> covariance)
    {
        (_prediction, _cambers, Ballasts, Count) = (from._prediction, from._cambers, from.Ballasts, from.Count);
        (PriorMean, PriorCovariance, PriorPrecision) = (mean, covariance, Inverse(covariance));
    }

    private static Matrix<double> Inverse(Matrix<double> covariance)
    {
        Matrix<double> precision = covariance.Cholesky().Solve(Matrix<double>.Build.DenseIdentity(covariance.RowCount));
        return (precision + precision.Transpose()) * 0.5;
    }

    /// <summary>The same terms with another prior.</summary>
    /// <param name="change">Changes the mean and the covariance, which must stay positive definite, in place.</param>
    public DragTerms WithPrior(Action<Vector<double>, Matrix<double>> change)
    {
        (Vector<double> mean, Matrix<double> covariance) = (PriorMean.Clone(), PriorCovariance.Clone());
        change(mean, covariance);
        return new DragTerms(this, mean, covariance);
    }

    private const double NodeStep = (HighestLogCl - LowestLogCl) / (Nodes - 1);

    /// <summary>ln CL of a node of the discrepancy.</summary>
    public static double NodeLnCl(int node) => LowestLogCl + node * NodeStep;

    /// <summary>Number of terms.</summary>
    public int Count { get; }

    /// <summary>Number of ballasts.</summary>
    public int Ballasts { get; }

    /// <summary>Prior mean of the coefficients.</summary>
    public Vector<double> PriorMean { get; }

    /// <summary>Prior covariance.</summary>
    public Matrix<double> PriorCovariance { get; }

    /// <summary>Its inverse.</summary>
    public Matrix<double> PriorPrecision { get; }

    /// <summary>The prior mean as a prediction for still air: what the air did in this session is no part of it.</summary>
    public double[] PredictedMean()
    {
        double[] mean = PriorMean.ToArray();
        mean[AirSink] = 0;
        return mean;
    }

    /// <summary>Draws from the prior.</summary>
    public double[][] DrawPrior(System.Random random, int count)
    {
        Matrix<double> factor = PriorCovariance.Cholesky().Factor;
        double[][] draws = new double[count][];
        for (int d = 0; d < count; d++)
        {
            Vector<double> z = Vector<double>.Build.Dense(Count, _ => MathNet.Numerics.Distributions.Normal.Sample(random, 0, 1));
            draws[d] = (PriorMean + factor * z).ToArray();
        }
        return draws;
    }

    /// <summary>Names of the terms, for the evidence that later estimation reads.</summary>
    public IReadOnlyList<string> Names(IReadOnlyList<double> ballastsG)
    {
        List<string> names = ["cd0", "reynolds_exponent_change", "profile_rise", "least_drag_cl_change", "inverse_span_efficiency", "stall_rise"];
        for (int k = 0; k < Nodes; k++)
        {
            names.Add(FormattableString.Invariant($"discrepancy_ln_cl_{LowestLogCl + k * NodeStep:0.00}"));
        }
        names.AddRange(["gust_curvature", "air_sink_gliding", "timing_s", "static_port_share", "airspeed_error_mps"]);
        names.AddRange(ballastsG.Select(b => FormattableString.Invariant($"ballast_{b:0.###}_g")));
        for (int c = 1; c < _cambers; c++)
        {
            names.AddRange([$"camber_{c}_cd", $"camber_{c}_cl", $"camber_{c}_cl2"]);
        }
        return names;
    }

    /// <summary>
    /// Each term's drag coefficient at a lift coefficient and Reynolds ratio; the terms of air and sensors are none and stay 0.
    /// </summary>
    /// <param name="cl">Lift coefficient.</param>
    /// <param name="reynoldsRatio">Re/Re0.</param>
    /// <param name="ballast">Index of the ballast's departure, or −1.</param>
    /// <param name="camber">Index of the camber setting, 0 the reference.</param>
    /// <param name="cd">Receives <see cref="Count"/> values.</param>
    public void Fill(double cl, double reynoldsRatio, int ballast, int camber, Span<double> cd)
    {
        cd.Clear();
        DragCurve curve = _prediction.Curve;
        double aspect = _prediction.Planform.AspectRatio;
        double power = Math.Pow(reynoldsRatio, -curve.ReynoldsExponent);
        double away = cl - curve.LeastDragCl, beyond = Math.Max(cl - DragCurve.StallOnsetCl, 0);
        cd[Cd0] = power;
        cd[Exponent] = -Math.Log(reynoldsRatio) * power * curve.Cd0;
        cd[Rise] = away * away;
        cd[LeastCl] = -2 * curve.ProfileRise * away;
        cd[Induced] = cl * cl / (Math.PI * aspect);
        cd[Stall] = beyond * beyond;
        double expected = curve.Cd(cl, reynoldsRatio, aspect);
        double position = Math.Clamp((Math.Log(cl) - LowestLogCl) / NodeStep, 0, Nodes - 1 - 1e-9);
        int node = (int)position;
        cd[Physical + node] = expected * (1 - (position - node));
        cd[Physical + node + 1] = expected * (position - node);
        if (ballast >= 0)
        {
            cd[Common + ballast] = expected;
        }
        if (camber > 0)
        {
            int at = Common + Ballasts + CamberTerms * (camber - 1);
            (cd[at], cd[at + 1], cd[at + 2]) = (1, cl, cl * cl);
        }
    }
}
