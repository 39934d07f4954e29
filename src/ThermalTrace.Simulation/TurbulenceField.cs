using System.Runtime.Intrinsics;

namespace ThermalTrace.Simulation;

/// <summary>
/// Homogeneous turbulence as a sum of random plane waves, each at right angles to its own direction (so the flow is free
/// of divergence and the transverse structure function stands to the longitudinal one as 4 to 3), with Kolmogorov's
/// spectrum E(k) = 1.5 ε^(2/3) k^(-5/3) below an outer scale; Pope, Turbulent Flows, 2000, section 6.5. The field is
/// carried by the mean wind and changes slowly as its eddies turn over. It is evaluated for ε = 1 and scaled by ε^(1/3).
/// </summary>
internal sealed class TurbulenceField
{
    private const int Modes = 96;
    private const double ShortestM = 0.7;

    /// <summary>A band of finite width holds a tenth too little at separations of 5 to 20 m, where dissipation is measured.</summary>
    private const double BandShare = 0.9;


    private readonly double[] _kx = new double[Modes];
    private readonly double[] _ky = new double[Modes];
    private readonly double[] _kz = new double[Modes];
    private readonly double[] _ux = new double[Modes];
    private readonly double[] _uy = new double[Modes];
    private readonly double[] _uz = new double[Modes];
    private readonly double[] _phase = new double[Modes];
    private readonly double[] _turnover = new double[Modes];
    private readonly double[] _inverseK = new double[Modes];

    /// <summary>Draws a field whose largest eddies have the size given, m: beyond it the spectrum falls off.</summary>
    public TurbulenceField(RandomStream random, double largestM)
    {
        double outer = 2 * Math.PI / largestM;
        double lowest = Math.Log(outer / 2.4);
        double band = (Math.Log(2 * Math.PI / ShortestM) - lowest) / Modes;
        for (int n = 0; n < Modes; n++)
        {
            double k = Math.Exp(lowest + band * (n + random.Uniform()));
            double rolloff = Math.Pow(k * k / (k * k + outer * outer), 17.0 / 6);
            // A wave of amplitude A holds A²/4 of kinetic energy per unit mass; the band holds E(k) k d(ln k).
            double amplitude = 2 * Math.Sqrt(1.5 * Math.Pow(k, -2.0 / 3) * rolloff * band / BandShare);
            (double x, double y, double z) = Direction(random);
            (double px, double py, double pz) = Direction(random);
            double along = px * x + py * y + pz * z;
            (px, py, pz) = (px - along * x, py - along * y, pz - along * z);
            double scale = amplitude / Math.Sqrt(px * px + py * py + pz * pz);
            double turns = k / (2 * Math.PI);
            (_kx[n], _ky[n], _kz[n]) = (turns * x, turns * y, turns * z);
            (_ux[n], _uy[n], _uz[n]) = (scale * px, scale * py, scale * pz);
            _phase[n] = random.Uniform();
            _turnover[n] = 0.4 / (2 * Math.PI) * Math.Pow(k, 2.0 / 3) * (random.Uniform() < 0.5 ? -1 : 1);
            _inverseK[n] = 1 / k;
        }
    }

    /// <summary>
    /// Velocity for ε = 1 at a point carried by the wind, m/s; <paramref name="turned"/> is time multiplied by ε^(1/3).
    /// Near the ground the large eddies are flat, so the vertical component of a wave longer than the height is less.
    /// </summary>
    public (double East, double North, double Up) At(double x, double y, double z, double turned)
    {
        Vector256<double> atX = Vector256.Create(x), atY = Vector256.Create(y), atZ = Vector256.Create(z);
        Vector256<double> turn = Vector256.Create(turned);
        Vector256<double> height = Vector256.Create(Math.Max(z, 0.5));
        Vector256<double> east = Vector256<double>.Zero, north = east, up = east;
        for (int n = 0; n < Modes; n += 4)
        {
            Vector256<double> phase = Load(_kx, n) * atX + Load(_ky, n) * atY + Load(_kz, n) * atZ + Load(_turnover, n) * turn + Load(_phase, n);
            Vector256<double> wave = Cosine(phase);
            east += Load(_ux, n) * wave;
            north += Load(_uy, n) * wave;
            up += Load(_uz, n) * wave * height / (height + Load(_inverseK, n));
        }
        return (Sum(east), Sum(north), Sum(up));
    }

    private static Vector256<double> Load(double[] values, int from) => Vector256.LoadUnsafe(ref values[from]);

    /// <summary>The lanes in a fixed order, so that every machine adds alike.</summary>
    private static double Sum(Vector256<double> v) => v[0] + v[1] + (v[2] + v[3]);

    /// <summary>Cosine of phases, which are kept in turns: even polynomial about the nearest whole turn, good to 1e-6.</summary>
    private static Vector256<double> Cosine(Vector256<double> turns)
    {
        Vector256<double> part = turns - Vector256.Floor(turns + Vector256.Create(0.5));
        // cos 2πx for |x| <= 1/2 as 2 cos² πx - 1, the inner cosine by its series in x².
        Vector256<double> q = part * part;
        Vector256<double> inner = Vector256.Create(1.0) + q * (Vector256.Create(-4.934802200544679) + q * (Vector256.Create(4.058712126416768)
            + q * (Vector256.Create(-1.3352627688545893) + q * (Vector256.Create(0.23533063035889312) + q * (Vector256.Create(-0.025806891390014053)
            + q * Vector256.Create(0.0019295743094039231))))));
        return Vector256.Create(2.0) * inner * inner - Vector256.Create(1.0);
    }

    private static (double X, double Y, double Z) Direction(RandomStream random)
    {
        double z = random.Uniform(-1, 1);
        double angle = random.Uniform(0, 2 * Math.PI);
        double level = Math.Sqrt(1 - z * z);
        return (level * Math.Cos(angle), level * Math.Sin(angle), z);
    }
}
