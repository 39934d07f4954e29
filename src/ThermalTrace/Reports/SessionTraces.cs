namespace ThermalTrace.Reports;

/// <summary>What the pictures need beyond the result document: one entry a flight, same order as the document's flights.</summary>
/// <param name="Flights">Traces, same order as <see cref="ResultsDocument.Flights"/>.</param>
/// <param name="Glides">The glides behind the polars, cut into pieces of steady flight.</param>
public sealed record SessionTraces(IReadOnlyList<FlightTrace> Flights, IReadOnlyList<GlidePoint> Glides);

/// <summary>A flight's trace; arrays of equal length, thinned to at most a few thousand points. East and north are NaN without GPS.</summary>
/// <param name="TimeS">s from the log's earliest stamp.</param>
/// <param name="HeightM">Above the launch point, m.</param>
/// <param name="EastM">From the launch point, m.</param>
/// <param name="NorthM">From the launch point, m.</param>
/// <param name="AirspeedMps">Estimated true airspeed at sea-level density, NaN where not known.</param>
public sealed record FlightTrace(double[] TimeS, double[] HeightM, double[] EastM, double[] NorthM, double[] AirspeedMps);

/// <summary>One piece of glide as a point beside the polar.</summary>
/// <param name="Log">File name (untrusted text).</param>
/// <param name="Flight">Counted from 1 in the log.</param>
/// <param name="StartS">s from the log's earliest stamp.</param>
/// <param name="EndS">s from the log's earliest stamp.</param>
/// <param name="BallastG">g; null where not known.</param>
/// <param name="AirspeedMps">Mean airspeed at sea-level density, m/s.</param>
/// <param name="AirspeedStandardErrorMps">Of that mean.</param>
/// <param name="SinkMps">Mean sink through the surrounding air in level-flight, sea-level terms, air motion not removed, m/s.</param>
/// <param name="SinkStandardErrorMps">From the air's own vertical motion and the sensors.</param>
/// <param name="BankDeg">Mean bank, degrees.</param>
/// <param name="TrackDeg">Mean direction of flight through the air, degrees.</param>
public sealed record GlidePoint(string Log, int Flight, double StartS, double EndS, double? BallastG, double AirspeedMps,
    double AirspeedStandardErrorMps, double SinkMps, double SinkStandardErrorMps, double BankDeg, double TrackDeg);
