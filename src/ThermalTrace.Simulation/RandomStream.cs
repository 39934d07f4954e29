using System.Text;

namespace ThermalTrace.Simulation;

/// <summary>
/// A stream of random numbers that is the same on every machine and in every version of the runtime: SplitMix64
/// (Steele, Lea and Flood, "Fast splittable pseudorandom number generators", 2014), normals by Box and Muller. Streams
/// forked by name do not disturb each other, so switching a sensor off changes no gust.
/// </summary>
internal sealed class RandomStream(ulong seed)
{
    private ulong _state = seed;
    private double _spare = double.NaN;

    /// <summary>An independent stream for one purpose, always the same for the same seed and name.</summary>
    public static RandomStream For(long seed, string purpose)
    {
        // FNV-1a over the purpose, then one mixing step together with the seed.
        ulong hash = 14695981039346656037;
        foreach (byte b in Encoding.UTF8.GetBytes(purpose))
        {
            hash = (hash ^ b) * 1099511628211;
        }
        return new RandomStream(Mix(hash ^ Mix((ulong)seed + 0x9E3779B97F4A7C15)));
    }

    /// <summary>Uniform in [0, 1).</summary>
    public double Uniform() => (Next() >> 11) * (1.0 / (1UL << 53));

    /// <summary>Uniform in [low, high).</summary>
    public double Uniform(double low, double high) => low + (high - low) * Uniform();

    /// <summary>Standard normal.</summary>
    public double Normal()
    {
        if (!double.IsNaN(_spare))
        {
            double kept = _spare;
            _spare = double.NaN;
            return kept;
        }
        double radius = Math.Sqrt(-2 * Math.Log(1 - Uniform()));
        double angle = 2 * Math.PI * Uniform();
        _spare = radius * Math.Sin(angle);
        return radius * Math.Cos(angle);
    }

    /// <summary>Exponential with the mean given.</summary>
    public double Exponential(double mean) => -mean * Math.Log(1 - Uniform());

    private ulong Next()
    {
        _state += 0x9E3779B97F4A7C15;
        return Mix(_state);
    }

    private static ulong Mix(ulong z)
    {
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }
}

/// <summary>An Ornstein–Uhlenbeck process: mean zero, standard deviation and correlation time given.</summary>
internal sealed class WanderingValue
{
    private readonly RandomStream _random;
    private readonly double _deviation;
    private readonly double _keep;
    private readonly double _kick;

    public WanderingValue(RandomStream random, double deviation, double correlationTimeS, double stepS)
    {
        _random = random;
        _deviation = deviation;
        _keep = Math.Exp(-stepS / correlationTimeS);
        _kick = deviation * Math.Sqrt(1 - _keep * _keep);
        Restart();
    }

    public double Value { get; private set; }

    public double Advance() => Value = Value * _keep + _kick * _random.Normal();

    /// <summary>A fresh draw from the stationary distribution.</summary>
    public void Restart() => Value = _deviation * _random.Normal();
}
