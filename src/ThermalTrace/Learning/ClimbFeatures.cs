using Microsoft.ML.Data;

namespace ThermalTrace.Learning;

/// <summary>A climb as learners see it: what may bear on what physics misses, and by how much it was missed.</summary>
internal sealed class ClimbFeatures
{
    /// <summary>Number of features.</summary>
    public const int Count = 7;

    /// <summary>Turbulence, wind, wing loading, turbulence at the bare mass's loading, circle over thermal, lift, centre of gravity; m, s, kg.</summary>
    [VectorType(Count)]
    public float[] Features { get; set; } = [];

    /// <summary>By what the air met exceeds what physics lets expect, against the session's mean: as a logarithm.</summary>
    public float Label { get; set; }

    /// <summary>Features.</summary>
    public static float[] Of(double edr, double windMps, double wingLoadingKgM2, double massRatio, double inside, double liftMps, double cgMm) =>
        [(float)edr, (float)(double.IsNaN(windMps) ? 0 : windMps), (float)wingLoadingKgM2, (float)(edr / massRatio), (float)inside, (float)liftMps, (float)cgMm];
}

/// <summary>What a learner answers.</summary>
internal sealed class ClimbMissed
{
    /// <summary>As a logarithm.</summary>
    [ColumnName("Score")]
    public float Log { get; set; }
}
