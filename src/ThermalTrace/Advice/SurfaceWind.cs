namespace ThermalTrace.Advice;

/// <summary>
/// The wind's lowest layer, neutral, over even ground: <c>U(z) = (u*/κ) ln(z/z0)</c>, and the turbulence that its shear makes,
/// <c>ε = u*³/(κ z)</c>. docs/models/advice.md eq. 1 to 3.
/// </summary>
internal static class SurfaceWind
{
    /// <summary>At which wind and turbulence are meant, m over ground: where small models glide and climb; common practice, no source.</summary>
    public const double FlyingHeightM = 30;

    /// <summary>By what turbulence of the same wind over the same ground differs from day to day, one standard deviation of its logarithm; common practice, no source.</summary>
    public const double EdrSpread = 0.25;

    /// <summary>Thermals stir a calm too: no less than "calm" is taken, m^(2/3)/s; common practice, no source.</summary>
    public const double LeastEdr = 0.03;

    /// <summary>von Kármán's constant.</summary>
    private const double Karman = 0.40;

    // Roughness lengths by Davenport and Wieringa's classes (from memory): open 0.03, roughly open 0.10, rough 0.25, very rough
    // 0.5, woods 1.0 m. Grass lies between the first two, trees between the last two.
    private const double GrassM = 0.055, HedgesM = 0.25, TreesM = 0.7;
    private const double RoughnessSpread = 0.6; // of its logarithm: half the step from class to class
    private const double SitingSpread = 0.13;   // of a ratio's logarithm: stability, slope, where one stands; common practice, no source

    /// <summary>Roughness length, m.</summary>
    public static double RoughnessM(Ground ground) => ground switch
    {
        Ground.Hedges => HedgesM,
        Ground.Trees => TreesM,
        _ => GrassM,
    };

    /// <summary>Wind at one height over that at another, by the logarithmic law.</summary>
    public static double Ratio(double heightM, double otherHeightM, double roughnessM) => Math.Log(heightM / roughnessM) / Math.Log(otherHeightM / roughnessM);

    /// <summary>Wind at flying height over that at the height of a reading: mean and standard deviation of its logarithm.</summary>
    public static (double LogRatio, double Spread) ToFlyingHeight(double readAtM, Ground ground)
    {
        double roughness = RoughnessM(ground);
        double above = Math.Log(FlyingHeightM / roughness), below = Math.Log(readAtM / roughness);
        return (Math.Log(above / below), double.Hypot(RoughnessSpread * (1 / below - 1 / above), SitingSpread));
    }

    /// <summary>u*, m/s.</summary>
    public static double FrictionVelocityMps(double windMps, double heightM, double roughnessM) => Karman * windMps / Math.Log(heightM / roughnessM);

    /// <summary>Eddy dissipation rate^(1/3), m^(2/3)/s, of the shear of a friction velocity.</summary>
    public static double Edr(double frictionVelocityMps, double heightM) => frictionVelocityMps / Math.Cbrt(Karman * heightM);

    /// <summary>Turbulence to expect at flying height, m^(2/3)/s.</summary>
    public static double ExpectedEdr(double windMps, Ground ground) =>
        Math.Max(Edr(FrictionVelocityMps(windMps, FlyingHeightM, RoughnessM(ground)), FlyingHeightM), LeastEdr);
}
