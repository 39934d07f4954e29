using System.Runtime.Intrinsics;
using ThermalTrace.Numerics;

namespace ThermalTrace.Tracks;

/// <summary>
/// Position and velocity along one axis from noisy positions, velocities or both: a Kalman smoother whose acceleration
/// is an Ornstein–Uhlenbeck process (Singer's model), with the noises chosen by likelihood. docs/models/track.md.
/// </summary>
internal static class MotionSmoother
{
    private const double AccelerationTimeS = 1.5; // a circle of 6 to 15 s and the rounding of a pull-up both fit

    /// <summary>Of position in m² and velocity in m²/s² before the first row.</summary>
    public const double StartVariance = 100;

    /// <summary>Added to position's where the axis jumps, m²: where it was tells nothing of where it is.</summary>
    public const double JumpVariance = 1e8;

    /// <summary>Noise levels of the axis.</summary>
    public sealed record Noise(double PositionM, double VelocityMps, double AccelerationMps2);

    /// <summary>Smoothed values on the grid; variance is the velocity's.</summary>
    public sealed record Motion(double[] Position, double[] Velocity, double[] Variance);

    /// <summary>
    /// The candidates' noise with the greatest likelihood, on at most a few thousand of the rows given.
    /// </summary>
    /// <param name="axes">Position and velocity of one axis or more, grid of <paramref name="stepS"/>; either may be empty.</param>
    /// <param name="stepS">s.</param>
    /// <param name="accelerations">Candidate standard deviations of acceleration, m/s².</param>
    /// <param name="positionNoises">Candidates, m.</param>
    /// <param name="velocityNoises">Candidates, m/s.</param>
    public static Noise ChooseNoise(IReadOnlyList<(double[] Position, double[] Velocity)> axes, double stepS,
        double[] accelerations, double[] positionNoises, double[] velocityNoises)
    {
        const int enough = 4000;
        MotionAxis[] prepared = [.. axes.Select(axis => MotionAxis.Of(axis.Position, axis.Velocity, stepS))];
        Noise[] candidates = [.. from acceleration in accelerations from position in positionNoises from velocity in velocityNoises
            select new Noise(position, velocity, acceleration)];
        Noise best = candidates[0];
        double bestLikelihood = double.NegativeInfinity;
        foreach (Noise[] several in candidates.Chunk(MotionLikelihood.Lanes))
        {
            Noise[] four = [.. several, .. Enumerable.Repeat(several[^1], MotionLikelihood.Lanes - several.Length)];
            Vector256<double> likelihoods = Vector256<double>.Zero;
            foreach (MotionAxis axis in prepared)
            {
                likelihoods += MotionLikelihood.Of(axis, four, enough);
            }
            for (int k = 0; k < several.Length; k++)
            {
                if (likelihoods[k] > bestLikelihood)
                {
                    (best, bestLikelihood) = (several[k], likelihoods[k]);
                }
            }
        }
        return best;
    }

    /// <summary>Smooths the whole axis.</summary>
    public static Motion Smooth(double[] position, double[] velocity, double stepS, Noise noise)
    {
        GaussianSmoother smoother = Filter(MotionAxis.Of(position, velocity, stepS), noise);
        smoother.Smooth();
        int count = smoother.Steps;
        double[] p = new double[count], v = new double[count], variance = new double[count];
        for (int i = 0; i < count; i++)
        {
            ReadOnlySpan<double> state = smoother.StateAt(i);
            (p[i], v[i]) = (state[0], state[1]);
            variance[i] = smoother.CovarianceAt(i)[4];
        }
        return new Motion(p, v, variance);
    }

    private static GaussianSmoother Filter(MotionAxis axis, Noise noise)
    {
        (double[] transition, double[] process) = Singer(axis.StepS, noise.AccelerationMps2);
        GaussianSmoother smoother = new(3, axis.Count);
        smoother.Start([axis.StartM, 0, 0], [StartVariance, 0, 0, 0, StartVariance, 0, 0, 0, noise.AccelerationMps2 * noise.AccelerationMps2]);
        double[] still = [1, 0, 0, 0, 1, 0, 0, 0, 1];
        double[] none = new double[9];
        double[] jump = (double[])process.Clone();
        jump[0] += JumpVariance;
        for (int i = 0; i < axis.Count; i++)
        {
            smoother.Predict(i == 0 ? still : transition, i == 0 ? none : axis.Jumped[i] ? jump : process);
            if (axis.Position.Length > 0)
            {
                smoother.Observe([1, 0, 0], axis.Position[i], noise.PositionM * noise.PositionM);
            }
            if (axis.Velocity.Length > 0)
            {
                smoother.Observe([0, 1, 0], axis.Velocity[i], noise.VelocityMps * noise.VelocityMps);
            }
            smoother.EndStep();
        }
        return smoother;
    }

    /// <summary>Exact discretisation of position, velocity and Ornstein–Uhlenbeck acceleration over a step.</summary>
    public static (double[] Transition, double[] Process) Singer(double dt, double sigma)
    {
        double a = 1 / AccelerationTimeS;
        double e = Math.Exp(-a * dt);
        double[] transition = [1, dt, (a * dt - 1 + e) / (a * a), 0, 1, (1 - e) / a, 0, 0, e];
        // Process covariance by Simpson's rule over the step: the closed form cancels badly for small a dt.
        double[] process = new double[9];
        double q = 2 * a * sigma * sigma;
        const int slices = 8;
        Span<double> g = stackalloc double[3];
        for (int k = 0; k <= slices; k++)
        {
            double u = dt * k / slices;
            double f = Math.Exp(-a * u);
            g[0] = (a * u - 1 + f) / (a * a);
            g[1] = (1 - f) / a;
            g[2] = f;
            double weight = (k is 0 or slices ? 1 : k % 2 == 1 ? 4 : 2) * dt / (3.0 * slices) * q;
            for (int i = 0; i < 3; i++)
            {
                for (int j = 0; j < 3; j++)
                {
                    process[3 * i + j] += weight * g[i] * g[j];
                }
            }
        }
        return (transition, process);
    }
}
