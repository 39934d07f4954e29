using MathNet.Numerics.Distributions;
using ThermalTrace.Air;
using ThermalTrace.Phases;
using ThermalTrace.Polars;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Polars;

/// <summary>What sensors do to a glide, put in on purpose and found again: delay, static port, an error of all airspeeds.</summary>
public class SensorTermsTests
{
    private const double MassKg = 0.3, GravityMps2 = 9.80665;
    private static readonly Planform Wing = new(0.22, 10.2, 0.147, 70_000);

    // Of 10 intervals of 90 % at least 7 hold the truth but once in 78 times (binomial); seeds are fixed.
    private const int Sessions = 10, LeastInside = 7;

    [Theory]
    [InlineData(0.2, 0, 0, 0.2)]
    [InlineData(0, 0.025, 0, 0.2)]
    [InlineData(0, 0, 0.1, 0.2)]
    [InlineData(0, 0, 0, 0.2)]
    [InlineData(0, 0, 0, 1)]
    public void WhatSensorsGetWrong_IsFoundWithinItsInterval(double lateS, double staticShare, double airspeedErrorMps, double stepS)
    {
        PolarEstimate[] found = [.. Enumerable.Range(0, Sessions).Select(n => Found(100 + n, lateS, staticShare, airspeedErrorMps, stepS))];
        // V²/2g of a speed that runs late by d is short of the true one by d V dV/dt / g, and what drag took is late by d.
        RequireInside(found, DragTerms.Timing, -lateS);
        Assert.InRange(found.Average(f => f.Mean[DragTerms.Timing]), -lateS - 0.04, -lateS + 0.04);
        RequireInside(found, DragTerms.StaticPort, staticShare);
        RequireInside(found, DragTerms.Airspeed, airspeedErrorMps);
    }

    private static void RequireInside(PolarEstimate[] found, int term, double truth)
    {
        int inside = found.Count(f =>
        {
            double[] draws = [.. f.Draws.Select(d => d[term]).Order()];
            return draws[(int)(0.05 * draws.Length)] <= truth && truth <= draws[(int)(0.95 * draws.Length)];
        });
        Assert.True(inside >= LeastInside, $"term {term}: {inside} of {Sessions} intervals hold {truth}; means {string.Join(' ', found.Select(f => f.Mean[term].ToString("0.000")))}");
    }

    /// <summary>Six flights through air that moves, at speeds that swing, fitted.</summary>
    private static PolarEstimate Found(int seed, double lateS, double staticShare, double airspeedErrorMps, double stepS)
    {
        DragCurve curve = new(0.015, 0.2, 0.02, 0.3, 1.1, 0.3);
        DragTerms terms = new(new Prediction(Wing, curve, new DragCurve(0.003, 0.1, 0.01, 0.1, 0.1, 0.2)), 1, 1, 0, 0.15);
        Random random = new(seed);
        GlideFlight[] flights = [.. Enumerable.Range(0, 6).Select(_ => Glide(random, terms, lateS, staticShare, airspeedErrorMps, stepS))];
        return PolarFit.Fit(flights, terms, Wing, 1, CancellationToken.None)!;
    }

    private static GlideFlight Glide(Random random, DragTerms terms, double lateS, double staticShare, double airspeedErrorMps, double stepS)
    {
        const int fine = 20;
        int count = (int)(200 / stepS);
        double period = 9 + 6 * random.NextDouble(), mean = 7 + 2 * random.NextDouble(), phase = 6 * random.NextDouble();
        double SpeedMps(double t) => mean + 1.5 * Math.Sin(2 * Math.PI * t / period + phase);
        double[] altitude = new double[count], speed = new double[count], cd = new double[terms.Count];
        double SinkMps(double v)
        {
            double cl = Wing.Cl(v, 1, MassKg, 1.225), drag = 0;
            terms.Fill(cl, Wing.ReynoldsRatio(v, 1.225, 288.15), 0, 0, cd);
            for (int j = 0; j < cd.Length; j++)
            {
                drag += cd[j] * terms.PriorMean[j];
            }
            return v * drag / cl;
        }
        double energy = 200, air = 0, dt = stepS / fine, keep = Math.Exp(-dt / 3);
        for (int i = 0; i < count; i++)
        {
            double t = i * stepS, v = SpeedMps(t);
            altitude[i] = energy - v * v * (1 - staticShare) / (2 * GravityMps2) + 0.05 * Normal.Sample(random, 0, 1);
            speed[i] = SpeedMps(t - lateS);
            for (int j = 0; j < fine; j++)
            {
                // Drag goes with an airspeed that is greater than the one seen.
                air = keep * air + Math.Sqrt(1 - keep * keep) * 0.2 * Normal.Sample(random, 0, 1);
                energy += (air - SinkMps(SpeedMps(t + (j + 0.5) * dt) + airspeedErrorMps)) * dt;
            }
        }
        Flight flight = new(MadeUpAir.Track(stepS, altitude, MadeUpAir.Ground(new double[count], speed)), 1, [new Segment(PhaseKind.Glide, 0, count, 1)], 0);
        return new GlideFlight(MadeUpAir.Air(flight, speed), MassKg, 0, null, 0, 1);
    }
}
