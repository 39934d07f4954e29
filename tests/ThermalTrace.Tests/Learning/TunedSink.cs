using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Learning;
using ThermalTrace.Polars;

namespace ThermalTrace.Tests.Learning;

/// <summary>What tuned drag says of sink in level flight at sea level, from the terms themselves.</summary>
internal static class TunedSink
{
    /// <summary>Sink and its standard deviation, m/s.</summary>
    public static (double Mps, double SdMps) At(TunedDrag drag, Prediction prediction, double airspeedMps, double massKg, double? ballastG = null)
    {
        (double cl, double ratio) = MadeUpDay.State(prediction.Planform, airspeedMps, massKg);
        DragTerms terms = new(prediction, 1, 0, 0, 1);
        double[] all = new double[terms.Count];
        terms.Fill(cl, ratio, 0, 0, all);
        Vector<double> row = Vector<double>.Build.Dense(drag.Mean.Count);
        for (int j = 0; j < TunedDrag.Airframe; j++)
        {
            row[j] = all[j];
        }
        if (ballastG is { } b)
        {
            row[TunedDrag.Airframe + drag.IndexOf(b)] = all[DragTerms.Common];
        }
        double perCd = MadeUpDay.SeaLevelDensityKgM3 * prediction.Planform.AreaM2 * Math.Pow(airspeedMps, 3) / (2 * massKg * MadeUpDay.StandardGravityMps2);
        return (perCd * row.DotProduct(drag.Mean), perCd * Math.Sqrt(row.DotProduct(drag.Covariance * row)));
    }

    /// <summary>Speeds and masses that a model of about 250 g is flown at.</summary>
    public static IEnumerable<(double AirspeedMps, double MassKg)> Flown =>
        from mass in new[] { 0.248, 0.308, 0.368 } from speed in new[] { 5.5, 6.5, 8, 10, 13 } select (speed, mass);
}
