namespace ThermalTrace.Simulation;

/// <summary>
/// Homogeneous turbulence as a sum of random plane waves, each at right angles to its own direction (so the flow is free
/// of divergence and the transverse structure function stands to the longitudinal one as 4 to 3), with Kolmogorov's
/// spectrum E(k) = 1.5 ε^(2/3) k^(-5/3) below an outer scale; Pope, Turbulent Flows, 2000, section 6.5. The field is
/// carried by the mean wind and changes slowly as its eddies turn over. It is evaluated for ε = 1 and scaled by ε^(1/3).
/// </summary>
internal sealed class TurbulenceField
{
    private const int Modes = 84;
    private const double LongestM = 500;
    private const double ShortestM = 1.0;
    private const double OuterWavenumber = 2 * Math.PI / 250;

    private readonly double[] _kx = new double[Modes];
    private readonly double[] _ky = new double[Modes];
    private readonly double[] _kz = new double[Modes];
    private readonly double[] _ux = new double[Modes];
    private readonly double[] _uy = new double[Modes];
    private readonly double[] _uz = new double[Modes];
    private readonly double[] _phase = new double[Modes];
    private readonly double[] _turnover = new double[Modes];
    private readonly double[] _inverseK = new double[Modes];

    public TurbulenceField(RandomStream random)
    {
        double lowest = Math.Log(2 * Math.PI / LongestM);
        double band = (Math.Log(2 * Math.PI / ShortestM) - lowest) / Modes;
        for (int n = 0; n < Modes; n++)
        {
            double k = Math.Exp(lowest + band * (n + random.Uniform()));
            double rolloff = Math.Pow(k * k / (k * k + OuterWavenumber * OuterWavenumber), 17.0 / 6);
            // A wave of amplitude A holds A²/4 of kinetic energy per unit mass; the band holds E(k) k d(ln k).
            double amplitude = 2 * Math.Sqrt(1.5 * Math.Pow(k, -2.0 / 3) * rolloff * band);
            (double x, double y, double z) = Direction(random);
            (double px, double py, double pz) = Direction(random);
            double along = px * x + py * y + pz * z;
            (px, py, pz) = (px - along * x, py - along * y, pz - along * z);
            double scale = amplitude / Math.Sqrt(px * px + py * py + pz * pz);
            (_kx[n], _ky[n], _kz[n]) = (k * x, k * y, k * z);
            (_ux[n], _uy[n], _uz[n]) = (scale * px, scale * py, scale * pz);
            _phase[n] = random.Uniform(0, 2 * Math.PI);
            _turnover[n] = 0.4 * Math.Pow(k, 2.0 / 3) * (random.Uniform() < 0.5 ? -1 : 1);
            _inverseK[n] = 1 / k;
        }
    }

    /// <summary>
    /// Velocity for ε = 1 at a point carried by the wind, m/s; <paramref name="turned"/> is time multiplied by ε^(1/3).
    /// Near the ground the large eddies are flat, so the vertical component of a wave longer than the height is less.
    /// </summary>
    public (double East, double North, double Up) At(double x, double y, double z, double turned)
    {
        double east = 0, north = 0, up = 0;
        double height = Math.Max(z, 0.5);
        for (int n = 0; n < Modes; n++)
        {
            double c = Math.Cos(_kx[n] * x + _ky[n] * y + _kz[n] * z + _turnover[n] * turned + _phase[n]);
            east += _ux[n] * c;
            north += _uy[n] * c;
            up += _uz[n] * c * height / (height + _inverseK[n]);
        }
        return (east, north, up);
    }

    private static (double X, double Y, double Z) Direction(RandomStream random)
    {
        double z = random.Uniform(-1, 1);
        double angle = random.Uniform(0, 2 * Math.PI);
        double level = Math.Sqrt(1 - z * z);
        return (level * Math.Cos(angle), level * Math.Sin(angle), z);
    }
}
