using System.Runtime.Intrinsics;
using ThermalTrace.Numerics;

namespace ThermalTrace.Tracks;

/// <summary>
/// Likelihood of <see cref="MotionSmoother"/>'s model at four levels of noise at once, one in each lane: the search looks at
/// dozens, and only the likelihood is wanted of each. docs/models/track.md.
/// </summary>
internal static class MotionLikelihood
{
    /// <summary>How many levels are looked at together.</summary>
    public const int Lanes = 4;

    private const int Between = 8; // steps between logarithms: sixteen variances of 1e-8 to 1e9 m² stay within a double

    /// <summary>Log likelihoods of one axis, in the order of the levels.</summary>
    /// <param name="axis">The axis.</param>
    /// <param name="noises">Four levels.</param>
    /// <param name="atMost">Grid points to look at.</param>
    public static Vector256<double> Of(MotionAxis axis, ReadOnlySpan<MotionSmoother.Noise> noises, int atMost)
    {
        (Vector256<double> rPosition, Vector256<double> rVelocity, Vector256<double> start) =
            (Squares(noises, n => n.PositionM), Squares(noises, n => n.VelocityMps), Squares(noises, n => n.AccelerationMps2));
        (double[] f, double[] unit) = MotionSmoother.Singer(axis.StepS, 1);
        (Vector256<double> dt, Vector256<double> c, Vector256<double> b, Vector256<double> e) =
            (Vector256.Create(f[1]), Vector256.Create(f[2]), Vector256.Create(f[5]), Vector256.Create(f[8]));
        (Vector256<double> qxx, Vector256<double> qxv, Vector256<double> qxa, Vector256<double> qvv, Vector256<double> qva, Vector256<double> qaa) =
            (start * unit[0], start * unit[1], start * unit[2], start * unit[4], start * unit[5], start * unit[8]);
        Vector256<double> x = Vector256.Create(axis.StartM), v = Vector256<double>.Zero, a = v, xv = v, xa = v, va = v;
        Vector256<double> xx = Vector256.Create(MotionSmoother.StartVariance), vv = xx, aa = start;
        Vector256<double> squares = v, logs = v, product = Vector256<double>.One;
        int looks = 0, count = Math.Min(axis.Count, atMost);
        for (int i = 0; i < count; i++)
        {
            if (i > 0)
            {
                // Position, velocity, acceleration move on: F P Fᵀ + Q by hand, for most of F is 0.
                x += dt * v + c * a;
                v += b * a;
                a *= e;
                Vector256<double> px = xx + dt * xv + c * xa, pv = xv + dt * vv + c * va, pa = xa + dt * va + c * aa;
                Vector256<double> wv = vv + b * va, wa = va + b * aa;
                xx = px + dt * pv + c * pa + qxx;
                xv = pv + b * pa + qxv;
                xa = e * pa + qxa;
                vv = wv + b * wa + qvv;
                va = e * wa + qva;
                aa = e * e * aa + qaa;
                if (axis.Jumped[i])
                {
                    xx += Vector256.Create(MotionSmoother.JumpVariance);
                }
            }
            if (axis.Position.Length > 0 && !double.IsNaN(axis.Position[i]))
            {
                Vector256<double> variance = xx + rPosition, inverse = Vector256<double>.One / variance;
                Vector256<double> innovation = Vector256.Create(axis.Position[i]) - x;
                Vector256<double> kx = xx * inverse, kv = xv * inverse, ka = xa * inverse;
                x += kx * innovation;
                v += kv * innovation;
                a += ka * innovation;
                vv -= kv * xv;
                va -= kv * xa;
                aa -= ka * xa;
                xv -= kx * xv;
                xa -= kx * xa;
                xx -= kx * xx;
                squares += innovation * innovation * inverse;
                product *= variance;
                looks++;
            }
            if (axis.Velocity.Length > 0 && !double.IsNaN(axis.Velocity[i]))
            {
                Vector256<double> variance = vv + rVelocity, inverse = Vector256<double>.One / variance;
                Vector256<double> innovation = Vector256.Create(axis.Velocity[i]) - v;
                Vector256<double> kx = xv * inverse, kv = vv * inverse, ka = va * inverse;
                x += kx * innovation;
                v += kv * innovation;
                a += ka * innovation;
                xx -= kx * xv;
                xa -= kx * va;
                aa -= ka * va;
                xv -= kx * vv;
                va -= ka * vv;
                vv -= kv * vv;
                squares += innovation * innovation * inverse;
                product *= variance;
                looks++;
            }
            if (i % Between == Between - 1)
            {
                logs += Log(product);
                product = Vector256<double>.One;
            }
        }
        logs += Log(product);
        return Vector256.Create(-0.5) * (Vector256.Create(looks * Math.Log(2 * Math.PI)) + logs + squares);
    }

    private static Vector256<double> Squares(ReadOnlySpan<MotionSmoother.Noise> noises, Func<MotionSmoother.Noise, double> of)
    {
        Vector256<double> values = Vector256.Create(of(noises[0]), of(noises[1]), of(noises[2]), of(noises[3]));
        return values * values;
    }

    private static Vector256<double> Log(Vector256<double> x) => Vector256.Create(Math.Log(x[0]), Math.Log(x[1]), Math.Log(x[2]), Math.Log(x[3]));
}
