using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Polars;
using ThermalTrace.Units;

namespace ThermalTrace.Advice;

/// <summary>A leg that could be flown: straight, one speed held.</summary>
/// <param name="AirspeedMps">m/s at sea-level density.</param>
/// <param name="Seconds">How long.</param>
/// <param name="HeadingRad">Clockwise from north.</param>
internal readonly record struct PlannedLeg(double AirspeedMps, double Seconds, double HeadingRad);

/// <summary>The day that test glides are expected to meet.</summary>
/// <param name="Noise">Air and sensors.</param>
/// <param name="WindErrorMps">Standard error of a flight's mean wind, east and north each, m/s.</param>
/// <param name="Worth">What a glide told on past days over what the noise says it should; 1 without past days.</param>
internal sealed record TestDay(AirNoise Noise, double WindErrorMps, double Worth);

/// <summary>
/// What legs not flown yet would tell of the drag terms. Their rows of energy height are written down and whitened exactly as
/// those of a flown flight are, the flight's wind error integrated out. docs/models/plan.md eq. 1.
/// </summary>
internal sealed class GlideInformation
{
    private const double TurnS = 4;                   // from leg to leg; common practice, no source
    private const double SpeedNoiseM = 0.1;           // of energy height, from the airspeed's own noise; common practice, no source
    private const double SpeedVarianceM2ps2 = 0.5;    // of gusts along the path and of the speed held; common practice, no source
    private const double SlopeStepMps = 0.25;

    private readonly DragTerms _terms;
    private readonly Planform _planform;
    private readonly double[] _coefficients;
    private readonly TestDay _day;

    /// <summary>For a day.</summary>
    /// <param name="terms">Terms of the options.</param>
    /// <param name="planform">Geometry.</param>
    /// <param name="coefficients">About which the polar's slope is taken; as many as terms.</param>
    /// <param name="day">The day.</param>
    public GlideInformation(DragTerms terms, Planform planform, double[] coefficients, TestDay day) =>
        (_terms, _planform, _coefficients, _day) = (terms, planform, coefficients, day);

    /// <summary>Information of one flight over the terms, row and column for each.</summary>
    /// <param name="massKg">Flying mass, kg.</param>
    /// <param name="ballast">Index of its ballast's departure.</param>
    /// <param name="legs">In the order flown.</param>
    public Matrix<double> Of(double massKg, int ballast, IReadOnlyList<PlannedLeg> legs) =>
        FlightEvidence.Of(Rows(massKg, ballast, legs), _day.Noise, _terms.Count).Information * _day.Worth;

    /// <summary>Sink in still air, m/s.</summary>
    public double SinkMps(double airspeedMps, double massKg, int ballast)
    {
        double cl = Math.Clamp(_planform.Cl(airspeedMps, 1, massKg, PhysicalConstants.SeaLevelDensityKgM3), 0.03, 1.8), sum = 0;
        double[] cd = Drag(airspeedMps, cl, ballast);
        for (int j = 0; j < cd.Length; j++)
        {
            sum += cd[j] * _coefficients[j];
        }
        return airspeedMps * sum / cl;
    }

    private double[] Drag(double airspeedMps, double cl, int ballast)
    {
        double[] cd = new double[_terms.Count];
        _terms.Fill(cl, _planform.ReynoldsRatio(airspeedMps, PhysicalConstants.SeaLevelDensityKgM3, PhysicalConstants.SeaLevelTemperatureK), ballast, 0, cd);
        return cd;
    }

    private EnergyRows Rows(double massKg, int ballast, IReadOnlyList<PlannedLeg> legs)
    {
        int[] global = [.. Enumerable.Range(0, DragTerms.Common), DragTerms.Common + ballast];
        int width = 1 + global.Length + 2;
        List<double> times = [], columns = [];
        List<bool> fresh = [];
        double begin = 0;
        double[] rate = new double[width], level = new double[width];
        foreach (PlannedLeg leg in legs)
        {
            double v = leg.AirspeedMps, cl = Math.Clamp(_planform.Cl(v, 1, massKg, PhysicalConstants.SeaLevelDensityKgM3), 0.03, 1.8);
            double[] cd = Drag(v, cl, ballast);
            double middle = SinkMps(v, massKg, ballast), above = SinkMps(v + SlopeStepMps, massKg, ballast), below = SinkMps(v - SlopeStepMps, massKg, ballast);
            double slope = (above - below) / (2 * SlopeStepMps), curvature = (above + below - 2 * middle) / (SlopeStepMps * SlopeStepMps);
            (double sin, double cos) = Math.SinCos(leg.HeadingRad);
            Array.Clear(level);
            for (int j = 0; j < global.Length; j++)
            {
                rate[1 + j] = -v * cd[global[j]] / cl;
            }
            rate[1 + DragTerms.Gusts] = -0.5 * Math.Clamp(curvature, -0.3, 0.3) * SpeedVarianceM2ps2;
            rate[1 + DragTerms.Airspeed] = -slope;
            (rate[width - 2], rate[width - 1]) = (slope * sin, slope * cos);
            level[1 + DragTerms.Timing] = middle;
            level[1 + DragTerms.StaticPort] = v * v / (2 * PhysicalConstants.StandardGravityMps2);
            level[width - 2] = v * sin / PhysicalConstants.StandardGravityMps2;
            level[width - 1] = v * cos / PhysicalConstants.StandardGravityMps2;
            int rows = (int)Math.Max(leg.Seconds, 2);
            for (int i = 0; i < rows; i++)
            {
                times.Add(begin + i);
                fresh.Add(i == 0);
                for (int c = 0; c < width; c++)
                {
                    columns.Add(level[c] + rate[c] * i);
                }
            }
            begin += rows + TurnS;
        }
        double wind = 1 / (_day.WindErrorMps * _day.WindErrorMps);
        return new EnergyRows([.. times], [.. fresh], [.. columns], width, global, (wind, 0, wind), 1, SpeedNoiseM);
    }
}
