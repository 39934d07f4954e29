using System.Globalization;
using ThermalTrace;
using ThermalTrace.Calibration;

CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
return args.Contains("--season") ? SeasonRun.All(args) : Run.All(args);
