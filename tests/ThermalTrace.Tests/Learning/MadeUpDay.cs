using System.Globalization;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Learning;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Learning;

/// <summary>Evidence of a day's glides as a debrief would gather it, of a model whose drag is known: no log and no estimator behind it.</summary>
internal sealed record MadeUpDay
{
    public const double SeaLevelDensityKgM3 = 1.225, SeaLevelTemperatureK = 288.15, StandardGravityMps2 = 9.80665; // ISO 2533

    /// <summary>As <c>airframe.json</c> had it on that day.</summary>
    public required Airframe Airframe { get; init; }

    /// <summary>True drag area, m², at an airspeed (m/s) and a flying mass (kg), at sea level.</summary>
    public required Func<double, double, double> DragAreaM2 { get; init; }

    /// <summary>Flown.</summary>
    public IReadOnlyList<double> BallastsG { get; init; } = [0, 60];

    /// <summary>Of one sink measured, as a share of drag, one standard deviation.</summary>
    public double Noise { get; init; } = 0.05;

    /// <summary>Of the day's own error along the curve, as a multiple of what the pool allows for; 0 for a day without any.</summary>
    public double Scatter { get; init; }

    /// <summary>Of the day.</summary>
    public double WindMps { get; init; }

    /// <summary>yyyy-MM-dd.</summary>
    public string? Date { get; init; }

    /// <summary>Of the day's climbs: what goes up there comes down where gliding is done, and that passes for drag.</summary>
    public double LiftMps { get; init; } = 1.5;

    /// <summary>By what all airspeeds of the day may be off in common, one standard deviation.</summary>
    public double AirspeedSpreadMps { get; init; } = 0.2;

    /// <summary>Of noise and scatter.</summary>
    public int Seed { get; init; }

    /// <summary>The drag of a model as its geometry predicts, and by a share more.</summary>
    public static Func<double, double, double> Drag(Airframe airframe, double more = 0)
    {
        Prediction prediction = Prediction.For(airframe);
        return (airspeedMps, massKg) =>
        {
            (double cl, double ratio) = State(prediction.Planform, airspeedMps, massKg);
            return prediction.Planform.AreaM2 * prediction.Curve.Cd(cl, ratio, prediction.Planform.AspectRatio) * (1 + more);
        };
    }

    /// <summary>Lift coefficient and Reynolds ratio in level flight at sea level.</summary>
    public static (double Cl, double Ratio) State(Planform planform, double airspeedMps, double massKg) =>
        (planform.Cl(airspeedMps, 1, massKg, SeaLevelDensityKgM3),
            planform.ReynoldsRatio(airspeedMps, SeaLevelDensityKgM3, SeaLevelTemperatureK));

    /// <summary>The evidence.</summary>
    public SessionEvidence Evidence()
    {
        System.Random random = new(Seed);
        Prediction prediction = Prediction.For(Airframe);
        Planform planform = prediction.Planform;
        DragTerms terms = new(prediction, BallastsG.Count, 0, LiftMps, AirspeedSpreadMps);
        Vector<double> own = terms.PriorMean.Clone();
        for (int j = DragTerms.Gusts; j < DragTerms.Common; j++)
        {
            own[j] += Scatter * Math.Sqrt(terms.PriorCovariance[j, j]) * Normal.Sample(random, 0, 1);
        }
        SessionEvidence bare = Empty(terms);
        Vector<double> day = DragPool.DayShares(bare).Cholesky().Factor * Vector<double>.Build.Dense(DragTerms.Nodes, _ => Scatter * Normal.Sample(random, 0, 1));
        List<double[]> rows = [];
        List<double> sinks = [];
        for (int b = 0; b < BallastsG.Count; b++)
        {
            double mass = (Airframe.UnballastedMassG + BallastsG[b]) / 1000;
            for (double cl = 0.14; cl < 1; cl *= 1.07)
            {
                double v = planform.AirspeedMps(cl, mass), ratio = State(planform, v, mass).Ratio;
                double[] row = new double[terms.Count];
                terms.Fill(cl, ratio, b, 0, row);
                double expected = prediction.Curve.Cd(cl, ratio, planform.AspectRatio), off = 0;
                for (int node = 0; node < DragTerms.Nodes; node++)
                {
                    off += row[DragTerms.Physical + node] * day[node];
                }
                // Air that sinks looks like drag at the speed flown; a speed read too low, too; quick changes of speed add a little.
                (row[DragTerms.Gusts], row[DragTerms.AirSink], row[DragTerms.Airspeed]) = (0.02 * expected, cl / v, 2 * expected / v);
                double seen = DragAreaM2(v, mass) / planform.AreaM2 + off + Noise * expected * (Scatter > 0 ? Normal.Sample(random, 0, 1) : 0);
                for (int j = DragTerms.Gusts; j < DragTerms.Common; j++)
                {
                    seen += row[j] * own[j];
                }
                rows.Add([.. row.Select(r => r / (Noise * expected))]);
                sinks.Add(seen / (Noise * expected));
            }
        }
        Matrix<double> weighed = Matrix<double>.Build.DenseOfRowArrays(rows);
        return bare with
        {
            Information = weighed.TransposeThisAndMultiply(weighed).ToRowMajorArray(),
            Score = weighed.TransposeThisAndMultiply(Vector<double>.Build.DenseOfEnumerable(sinks)).ToArray(),
            Rows = rows.Count,
        };
    }

    /// <summary>The session that holds it.</summary>
    public SeasonSession Session(string id) => new(id, Evidence());

    private SessionEvidence Empty(DragTerms terms) => new()
    {
        Format = SessionEvidence.CurrentFormat,
        Terms = terms.Names(BallastsG),
        Information = [],
        Score = [],
        Rows = 0,
        Date = Date,
        Basis = DragBasis.Of(Prediction.For(Airframe)),
        PriorMean = terms.PriorMean.ToArray(),
        PriorSd = [.. terms.PriorCovariance.Diagonal().Select(Math.Sqrt)],
        BallastsG = BallastsG,
        Flights = [.. BallastsG.Select((b, i) => new FlightFact
        {
            Log = "day.csv",
            Number = i + 1,
            BallastG = b,
            MassKg = (Airframe.UnballastedMassG + b) / 1000,
            CgMm = 61 + 0.02 * b,
            Counts = true,
            Spoiled = false,
            LaunchHeightM = 45 - 0.05 * b,
            AloftS = 180,
            GlideS = 150,
            GlideWayM = 1_200,
            WindMps = WindMps,
            WindErrorMps = 0.2,
            Edr = 0.1,
            LoadFactorRms = 0.17,
        })],
    };

    /// <summary>A day of a season, yyyy-MM-dd.</summary>
    public static string Day(int number) => new DateTime(2026, 3, 1).AddDays(3 * number).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
