using ThermalTrace.Logs;

namespace ThermalTrace.Tests.Logs;

public class HeaderTests
{
    [Theory]
    // Words of the trade, as loggers and telemetry write them.
    [InlineData("Altitude", Quantity.Altitude, "")]
    [InlineData("alt", Quantity.Altitude, "")]
    [InlineData("HEIGHT", Quantity.Altitude, "")]
    [InlineData("Height (m)", Quantity.Altitude, "m")]
    [InlineData("Alt[ft]", Quantity.Altitude, "ft")]
    [InlineData("Altitude (ft.)", Quantity.Altitude, "ft.")]
    [InlineData("Altitude {m}", Quantity.Altitude, "m")]
    [InlineData("Altitude <m>", Quantity.Altitude, "m")]
    [InlineData("Altitude, m", Quantity.Altitude, "m")]
    [InlineData("Altitude/ft", Quantity.Altitude, "ft")]
    [InlineData("Altitude in feet", Quantity.Altitude, "feet")]
    [InlineData("Altitude: m", Quantity.Altitude, "m")]
    [InlineData("alt_m", Quantity.Altitude, "m")]
    [InlineData("AltitudeFt", Quantity.Altitude, "ft")]
    [InlineData("baro_alt_m", Quantity.Altitude, "m")]
    [InlineData("Baro altitude (m)", Quantity.Altitude, "m")]
    [InlineData("pressure altitude [ft]", Quantity.Altitude, "ft")]
    [InlineData("Baro (m)", Quantity.Altitude, "m")]
    [InlineData("rel. altitude [m]", Quantity.Altitude, "m")]
    [InlineData("Altitude AGL (m)", Quantity.Altitude, "m")]
    [InlineData("Alt (MSL) [m]", Quantity.Altitude, "m")]
    [InlineData("Filtered altitude (m)", Quantity.Altitude, "m")]
    [InlineData("Baro [hPa]", Quantity.Pressure, "hPa")]
    [InlineData("Pressure (Pa)", Quantity.Pressure, "Pa")]
    [InlineData("pressure_hpa", Quantity.Pressure, "hpa")]
    [InlineData("static pressure, mbar", Quantity.Pressure, "mbar")]
    [InlineData("Press. [inHg]", Quantity.Pressure, "inHg")]
    [InlineData("p_static [kPa]", Quantity.Pressure, "kPa")]
    [InlineData("GPS Alt (m)", Quantity.GpsAltitude, "m")]
    [InlineData("gps_altitude_m", Quantity.GpsAltitude, "m")]
    [InlineData("GAlt(m)", Quantity.GpsAltitude, "m")]
    [InlineData("Altitude (GPS) [m]", Quantity.GpsAltitude, "m")]
    [InlineData("GNSS height", Quantity.GpsAltitude, "")]
    [InlineData("ele", Quantity.GpsAltitude, "")]
    [InlineData("Vario", Quantity.ClimbRate, "")]
    [InlineData("vario_mps", Quantity.ClimbRate, "mps")]
    [InlineData("vario_m_s", Quantity.ClimbRate, "ms")]
    [InlineData("Climb rate (m/s)", Quantity.ClimbRate, "m/s")]
    [InlineData("VSpd(m/s)", Quantity.ClimbRate, "m/s")]
    [InlineData("VSI [ft/min]", Quantity.ClimbRate, "ft/min")]
    [InlineData("Vertical Speed (fpm)", Quantity.ClimbRate, "fpm")]
    [InlineData("rate of climb", Quantity.ClimbRate, "")]
    [InlineData("Lat", Quantity.Latitude, "")]
    [InlineData("GPS.Latitude", Quantity.Latitude, "")]
    [InlineData("latitude_deg", Quantity.Latitude, "deg")]
    [InlineData("lat_degE7", Quantity.Latitude, "dege7")]
    [InlineData("lon", Quantity.Longitude, "")]
    [InlineData("LNG", Quantity.Longitude, "")]
    [InlineData("long", Quantity.Longitude, "")]
    [InlineData("Longitude (deg)", Quantity.Longitude, "deg")]
    [InlineData("position", Quantity.Position, "")]
    [InlineData("GPS", Quantity.Position, "")]
    [InlineData("Lat/Lon", Quantity.Position, "")]
    [InlineData("Speed", Quantity.GroundSpeed, "")]
    [InlineData("GSpd(kmh)", Quantity.GroundSpeed, "kmh")]
    [InlineData("Ground speed [km/h]", Quantity.GroundSpeed, "km/h")]
    [InlineData("ground-speed, knots", Quantity.GroundSpeed, "knots")]
    [InlineData("SOG (kn)", Quantity.GroundSpeed, "kn")]
    [InlineData("speed over ground", Quantity.GroundSpeed, "")]
    [InlineData("GPS Speed (kts)", Quantity.GroundSpeed, "kts")]
    [InlineData("speed_kmh", Quantity.GroundSpeed, "kmh")]
    [InlineData("Speed_km_h", Quantity.GroundSpeed, "kmh")]
    [InlineData("COG", Quantity.Track, "")]
    [InlineData("Course (deg)", Quantity.Track, "deg")]
    [InlineData("track [°]", Quantity.Track, "°")]
    [InlineData("Hdg(@)", Quantity.Track, "@")]
    [InlineData("heading over ground", Quantity.Track, "")]
    [InlineData("True track", Quantity.Track, "")]
    [InlineData("IAS [km/h]", Quantity.Airspeed, "km/h")]
    [InlineData("Airspeed", Quantity.Airspeed, "")]
    [InlineData("pitot_mps", Quantity.Airspeed, "mps")]
    [InlineData("TAS (m/s)", Quantity.Airspeed, "m/s")]
    [InlineData("ASpd(kmh)", Quantity.Airspeed, "kmh")]
    [InlineData("accel z (g)", Quantity.VerticalAcceleration, "g")]
    [InlineData("AccZ(g)", Quantity.VerticalAcceleration, "g")]
    [InlineData("vertical acceleration [m/s²]", Quantity.VerticalAcceleration, "m/s²")]
    [InlineData("g-force", Quantity.Acceleration, "")]
    [InlineData("Acceleration [m/s^2]", Quantity.Acceleration, "m/s^2")]
    [InlineData("Temp (°C)", Quantity.Temperature, "°C")]
    [InlineData("OAT [F]", Quantity.Temperature, "F")]
    [InlineData("temperature_c", Quantity.Temperature, "c")]
    [InlineData("Air temp. [K]", Quantity.Temperature, "K")]
    [InlineData("RxBt(V)", Quantity.Voltage, "V")]
    [InlineData("Battery voltage (mV)", Quantity.Voltage, "mV")]
    [InlineData("volts", Quantity.Voltage, "")]
    [InlineData("RPM", Quantity.Motor, "")]
    [InlineData("Throttle (%)", Quantity.Motor, "%")]
    [InlineData("motor", Quantity.Motor, "")]
    [InlineData("Flap", Quantity.Camber, "")]
    [InlineData("camber", Quantity.Camber, "")]
    [InlineData("Flight mode", Quantity.Camber, "")]
    [InlineData("ballast_g", Quantity.Ballast, "g")]
    [InlineData("Ballast [oz]", Quantity.Ballast, "oz")]
    [InlineData("time_s", Quantity.Time, "s")]
    [InlineData("Time (ms)", Quantity.Time, "ms")]
    [InlineData("timestamp", Quantity.Time, "")]
    [InlineData("Time (UTC)", Quantity.Clock, "")]
    [InlineData("Elapsed time [s]", Quantity.Time, "s")]
    [InlineData("Clock [hh:mm:ss]", Quantity.Clock, "")]
    [InlineData("Date (dd.mm.yyyy)", Quantity.Date, "")]
    public void AHeader_InTheTradesWords_IsUnderstood(string header, Quantity quantity, string unit)
    {
        ColumnHeader read = ColumnHeader.Read(header);
        HeaderMeaning? meaning = read.Meanings.FirstOrDefault(m => read.UnitText.Length == 0 || Quantities.FindUnit(read.UnitText, m.Quantity) is not null);
        Assert.NotNull(meaning);
        Assert.Equal(quantity, meaning.Quantity);
        Assert.Equal(unit, read.UnitText, ignoreCase: true);
    }

    [Theory]
    [InlineData("Pilot")]
    [InlineData("Satellites")]
    [InlineData("HDOP")]
    [InlineData("RSSI")]
    [InlineData("Roll [deg]")]
    [InlineData("Pitch [deg]")]
    [InlineData("Rudder")]
    [InlineData("Fuel used (ml)")]
    [InlineData("Distance [m]")]
    [InlineData("Wind speed [m/s]")]
    [InlineData("1RSS(dB)")]
    [InlineData("")]
    public void AHeader_OfSomethingElse_IsLeftAlone(string header) =>
        Assert.Empty(ColumnHeader.Read(header).Meanings);

    [Theory]
    [InlineData("m", nameof(Dimension.Length), 1)]
    [InlineData("ft", nameof(Dimension.Length), 0.3048)]
    [InlineData("feet", nameof(Dimension.Length), 0.3048)]
    [InlineData("km", nameof(Dimension.Length), 1000)]
    [InlineData("m/s", nameof(Dimension.Speed), 1)]
    [InlineData("m s⁻¹", nameof(Dimension.Speed), 1)]
    [InlineData("m·s-1", nameof(Dimension.Speed), 1)]
    [InlineData("metres per second", nameof(Dimension.Speed), 1)]
    [InlineData("km/h", nameof(Dimension.Speed), 1 / 3.6)]
    [InlineData("KPH", nameof(Dimension.Speed), 1 / 3.6)]
    // 1852 m and 3600 s: the knot, exact (BIPM SI brochure, 9th ed., as units outside the SI).
    [InlineData("kn", nameof(Dimension.Speed), 1852.0 / 3600)]
    [InlineData("knots", nameof(Dimension.Speed), 1852.0 / 3600)]
    [InlineData("kts", nameof(Dimension.Speed), 1852.0 / 3600)]
    [InlineData("mph", nameof(Dimension.Speed), 0.44704)]
    [InlineData("ft/min", nameof(Dimension.Speed), 0.3048 / 60)]
    [InlineData("fpm", nameof(Dimension.Speed), 0.3048 / 60)]
    [InlineData("m/min", nameof(Dimension.Speed), 1.0 / 60)]
    [InlineData("hPa", nameof(Dimension.Pressure), 100)]
    [InlineData("mbar", nameof(Dimension.Pressure), 100)]
    [InlineData("mb", nameof(Dimension.Pressure), 100)]
    [InlineData("kPa", nameof(Dimension.Pressure), 1000)]
    [InlineData("inHg", nameof(Dimension.Pressure), 3386.389)]
    // 760 mmHg = 101325 Pa.
    [InlineData("mmHg", nameof(Dimension.Pressure), 101325.0 / 760)]
    [InlineData("rad", nameof(Dimension.Angle), 180 / Math.PI)]
    [InlineData("1e-7 deg", nameof(Dimension.Angle), 1e-7)]
    // 2^31 semicircles = 180 degrees.
    [InlineData("semicircles", nameof(Dimension.Angle), 180 / 2147483648.0)]
    [InlineData("g", nameof(Dimension.Mass), 1)]
    [InlineData("g", nameof(Dimension.Acceleration), 9.80665)]
    [InlineData("kg", nameof(Dimension.Mass), 1000)]
    [InlineData("oz", nameof(Dimension.Mass), 28.349523125)]
    [InlineData("lb", nameof(Dimension.Mass), 453.59237)]
    [InlineData("mV", nameof(Dimension.Voltage), 0.001)]
    [InlineData("ms", nameof(Dimension.Time), 0.001)]
    [InlineData("µs", nameof(Dimension.Time), 1e-6)]
    public void AUnit_HasItsSize(string name, string dimension, double size)
    {
        LogUnit? unit = UnitWords.Find(name, Enum.Parse<Dimension>(dimension));
        Assert.NotNull(unit);
        Assert.Equal(size, unit.ToSi(1) - unit.ToSi(0), 1e-15 * Math.Max(1, size));
    }

    [Theory]
    // The fixed points: 0 °C = 273.15 K, 212 °F = 373.15 K, 32 °F = 273.15 K.
    [InlineData("°C", 0, 273.15)]
    [InlineData("C", 25, 298.15)]
    [InlineData("degF", 212, 373.15)]
    [InlineData("°F", 32, 273.15)]
    [InlineData("K", 250, 250)]
    public void ATemperature_BecomesKelvin(string name, double value, double kelvin) =>
        Assert.Equal(kelvin, UnitWords.Find(name, Dimension.Temperature)!.ToSi(value), 1e-12);

    [Fact]
    public void EveryQuantityOfTheContract_IsKnownByItsOwnName()
    {
        foreach (Quantity quantity in Enum.GetValues<Quantity>().Where(q => q != Quantity.Ignore))
        {
            Assert.Contains(HeaderWords.Find(Quantities.NameOf(quantity)), m => m.Quantity == quantity);
        }
    }
}
