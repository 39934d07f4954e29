namespace ThermalTrace.Numerics;

/// <summary>How far a fit can be relied on; anything but <see cref="Good"/> comes with a reason in words.</summary>
public enum FitStatus
{
    /// <summary>Estimates and covariance are what they claim to be.</summary>
    Good,

    /// <summary>The rows do not tell some parameters apart; estimates are NaN.</summary>
    RankDeficient,

    /// <summary>No more rows than parameters where the scatter is to be estimated from them; covariance is NaN.</summary>
    NoDegreesOfFreedom,

    /// <summary>A number in the input is missing or infinite; estimates are NaN.</summary>
    NotFinite,

    /// <summary>The search ended before it settled; estimates are the best it reached, covariance is NaN.</summary>
    NotConverged,
}
