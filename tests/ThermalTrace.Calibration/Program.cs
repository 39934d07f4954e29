using System.Globalization;
using ThermalTrace;
using ThermalTrace.Calibration;

CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
return Run.All(args);
