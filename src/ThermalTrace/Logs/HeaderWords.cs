using System.Collections.Frozen;
using System.Text;

namespace ThermalTrace.Logs;

/// <summary>A reading of a header word.</summary>
/// <param name="Quantity">What it measures.</param>
/// <param name="Rank">0 is the plainest name for it; of two columns for one quantity the lower rank wins.</param>
/// <param name="Unit">The unit that the word itself implies, as in <c>millis</c>.</param>
/// <param name="Down">True where the word counts downwards, as sink rate does.</param>
internal sealed record HeaderMeaning(Quantity Quantity, int Rank, string? Unit = null, bool Down = false);

/// <summary>The trade's words for what a log records, in the spellings that loggers use; case and punctuation do not count.</summary>
internal static class HeaderWords
{
    // Rank 0: says exactly this. Rank 1: usual short form. Rank 2: may be something else; taken where nothing better is there.
    private static readonly (Quantity Quantity, int Rank, string Words)[] Table =
    [
        (Quantity.Time, 0, "time timestamp datetime dateandtime dateutc timestamputc isotime iso8601 datetimeutc utcdatetime localdatetime datetimelocal timedate gpsdatetime"),
        (Quantity.Time, 1, "t secs:s seconds:s sec:s elapsed elapsedtime elapsedseconds:s runtime flighttime logtime timelog timesincestart timesinceboot uptime millis:ms milliseconds:ms msec:ms micros:us microseconds:us usec:us tick ticks epoch epochtime unixtime unix unixtimestamp posixtime stamp timesec:s timemsec:ms timemillis:ms timeinseconds:s timeseconds:s ms:ms us:us s:s timeboot timeus:us timems:ms"),
        (Quantity.Time, 2, "gpstime timegps systime systemtime boottime timeofweek tow itow"),
        (Quantity.Date, 0, "date day calendardate utcdate dateutc gpsdate localdate datelocal logdate"),
        (Quantity.Clock, 0, "clock clocktime timeofday daytime tod utc utctime timeutc gpsclock localtime timelocal hhmmss hms hour walltime wallclock utcclock clockutc"),
        (Quantity.Altitude, 0, "altitude alt height baroaltitude altitudebaro baroalt altbaro barometricaltitude barometricheight baroheight pressurealtitude pressurealt pressalt altpress altitudepressure palt balt altitudebarometric baralt barometeraltitude altitudebarometer altbarometer qnealtitude qnealt altqne altitudeqne"),
        (Quantity.Altitude, 1, "hgt height asl altmsl altitudemsl mslaltitude mslalt altitudeasl heightasl heightmsl relalt relativealtitude relativealt altrel altitudeagl altagl heightagl agl altitudeqnh qnhaltitude qnhalt altqnh altitudeqfe qfealt h z elevation elev level varioalt varioaltitude altvario altitudevario indicatedaltitude altitudeindicated heightaboveground heightabovelaunch altitudeabovelaunch altitudefiltered altfiltered filteredaltitude altest estimatedaltitude altitudeestimate"),
        (Quantity.Altitude, 2, "baro barometer barometric"),
        (Quantity.Pressure, 0, "pressure airpressure staticpressure pressurestatic pstatic statpressure staticpress atmosphericpressure barometricpressure baropressure baropress pressurebaro absolutepressure abspressure pressureabs ambientpressure absstaticpressure stationpressure"),
        (Quantity.Pressure, 1, "press ps pres prs p pstat pamb patm pabs qfe"),
        (Quantity.Pressure, 2, "baro barometer barometric"),
        (Quantity.GpsAltitude, 0, "gpsaltitude gpsalt altgps altitudegps gnssaltitude gnssalt altitudegnss altgnss gpsheight heightgps gnssheight heightgnss gpselevation elevationgps gpsele gpselev satellitealtitude galt gpsaltitudemsl gpsaltmsl gpsmslaltitude gpsamsl gpsheightmsl altellipsoid ellipsoidheight ellipsoidalheight heightellipsoid hae geoidheightabove altitudehae haealtitude gpshae gpsaltitudehae altitudewgs84 wgs84altitude heightaboveellipsoid geometricaltitude geoaltitude"),
        (Quantity.GpsAltitude, 1, "ele geoalt gpsz altitudegeo"),
        (Quantity.ClimbRate, 0, "climbrate climb rateofclimb vario variometer verticalspeed vspeed vspd vertspeed verticalvelocity vertvelocity vvel vsi roc verticalrate vertspd speedvertical velocityvertical climbspeed climbvelocity baroclimb barovario barovspeed barovs variorate climbrates verticalspeedindicator barorate barometricverticalspeed"),
        (Quantity.ClimbRate, 1, "vs vz climbing lift variofiltered filteredvario variofilt rawvario varioraw netvario tevario variote totalenergyvario te vvi velu velup speedup vup vu"),
        (Quantity.ClimbRate, 2, "gpsclimb gpsclimbrate gpsvario gpsvspeed gpsverticalspeed gpsvs verticalspeedgps altituderate heightrate dhdt dalt"),
        (Quantity.ClimbRate, 1, "-sink -sinkrate -sinkspeed -rateofdescent -descentrate -descent -rod -veldown -veld -velocitydown -vd -speeddown"),
        (Quantity.Latitude, 0, "latitude lat gpslatitude gpslat latgps latitudegps gnsslatitude gnsslat latgnss latitudegnss poslat latpos latitudewgs84 geolat"),
        (Quantity.Longitude, 0, "longitude lon lng long gpslongitude gpslon longps longitudegps gpslng lnggps gpslong longgps gnsslongitude gnsslon longnss longitudegnss poslon lonpos longitudewgs84 geolon"),
        (Quantity.Position, 0, "position pos gps gpsposition latlon latlong latlng gpscoordinates coordinates coordinate coord coords latitudelongitude gpslatlon gpslatlong gpspos positiongps location gpslocation latlongps fix gnss gnssposition gpscoord gpscoords"),
        (Quantity.GroundSpeed, 0, "groundspeed speedoverground sog gspd gs groundspd gndspd gndspeed gspeed gpsspeed speedgps gpsspd spdgps gnssspeed speedgnss gpsgroundspeed groundspeedgps speedovergnd groundvelocity horizontalspeed hspeed hspd speedhorizontal overgroundspeed speedground gpsvelocity gpsvel velocitygps"),
        (Quantity.GroundSpeed, 1, "speed spd velocity vel gsp speed2d 2dspeed speedd2 gpssog vground vgnd horizontalvelocity"),
        (Quantity.GroundSpeed, 2, "speed3d 3dspeed gpsspeed3d"),
        (Quantity.Track, 0, "track course courseoverground cog trackangle trackoverground headingoverground groundtrack trk gpscourse coursegps gpstrack trackgps groundcourse gpscog truetrack tracktrue coursetrue truecourse directionofmotion crs courseovergnd coursemadegood tmg cmg gcrs gpsgroundcourse gpscrs trt tracktruegps"),
        (Quantity.Track, 1, "gpsheading headinggps gpshdg hdggps gpsbearing gpsdirection motionheading headingofmotion headmot"),
        (Quantity.Track, 2, "heading hdg bearing direction dir"),
        (Quantity.Airspeed, 0, "airspeed ias indicatedairspeed airspeedindicated indicatedspeed aspd aspeed airspd pitot pitotspeed speedpitot pitotairspeed airspeedpitot asi airspeedias speedias iasspeed"),
        (Quantity.Airspeed, 1, "cas eas calibratedairspeed equivalentairspeed speedair airvelocity aspeed arspd arspeed arsp"),
        (Quantity.Airspeed, 2, "tas trueairspeed airspeedtrue speedtas"),
        (Quantity.VerticalAcceleration, 0, "verticalacceleration verticalaccel vertaccel vertacc vertacceleration accelvertical accvertical accelerationvertical verticalacc vacc vaccel"),
        (Quantity.VerticalAcceleration, 1, "accelz accz accelerationz zaccel zacc zacceleration az accz acclz imuaccz imuaccelz normalacceleration normalaccel nz"),
        (Quantity.Acceleration, 0, "acceleration accel acc gforce loadfactor gload accelerationmagnitude accelmagnitude accmagnitude totalacceleration accelerationtotal acceltotal acctotal totalaccel specificforce acceleromter accelerometer accmag accelmag accelnorm accnorm absacceleration gforces"),
        (Quantity.Acceleration, 1, "g:g gs:g gmeter:g load n:g nload gtotal gabs"),
        (Quantity.Temperature, 0, "temperature temp oat outsideairtemperature airtemperature airtemp ambienttemperature ambienttemp tempair temperatureair outsidetemperature outsidetemp sat staticairtemperature barotemp tempbaro barometertemperature sensortemperature tempsensor baroTemperature variotemp tempvario"),
        (Quantity.Temperature, 1, "tmp tamb tair temp1 tmp1 t1 degc:c"),
        (Quantity.Voltage, 0, "voltage volt volts battery batteryvoltage battvoltage batvoltage vbat vbatt battv batv batt bat rxbt rxbat rxvoltage receivervoltage rxvolt vfas supplyvoltage supply a1 a2 packvoltage voltagebattery vcc ubat ubatt rxv lipo lipovoltage cellvoltage vrx"),
        (Quantity.Motor, 0, "motor motorrpm rpm motorspeed enginespeed throttle thr throttleposition motoron motorstate motorstatus motorpower esc escrpm motorsetting motorrun engine enginerpm motoronoff propellerrpm proprpm throttlepercent motorthrottle thrpos thro throttleout throttleoutput motoroutput"),
        (Quantity.Motor, 1, "mot motorcurrent enl mop power escthrottle escpower"),
        (Quantity.Camber, 0, "camber flap flaps flapsetting flapposition cambersetting camberposition flightmode mode fm wingsetting flapmode cambermode flapangle camberangle flightphase phaseswitch fmode flmode modename flightmodename flapswitch"),
        (Quantity.Ballast, 0, "ballast ballastmass ballastweight massballast"),
    ];

    /// <summary>Words that narrow nothing down and may be left out of a name.</summary>
    private static readonly FrozenSet<string> Fillers = new[]
    {
        "the", "raw", "value", "val", "sensor", "log", "logged", "data", "filtered", "filt", "smoothed", "smooth", "avg", "average", "mean",
        "current", "measured", "meas", "main", "primary", "int", "calc", "calculated", "instant", "instantaneous", "est", "estimated",
        "reading", "of", "in", "from", "by", "my", "model", "glider", "plane", "aircraft", "telemetry", "tele", "telem", "rel", "relative", "abs", "absolute",
        "wgs84", "wgs", "true", "dec", "decimal", "std", "signed", "corrected", "corr", "new", "fused", "1", "0", "msl", "amsl",
    }.ToFrozenSet(StringComparer.Ordinal);

    private static readonly FrozenDictionary<string, HeaderMeaning[]> ByWord = Build();

    /// <summary>The meanings of a name without its unit, best first; empty where it is not understood.</summary>
    public static HeaderMeaning[] Find(string name)
    {
        List<string> tokens = Tokens(name);
        string key = string.Concat(tokens);
        if (ByWord.TryGetValue(key, out HeaderMeaning[]? found))
        {
            return found;
        }
        List<string> fewer = tokens.FindAll(t => !Fillers.Contains(t));
        if (fewer.Count > 0 && fewer.Count < tokens.Count && ByWord.TryGetValue(string.Concat(fewer), out found))
        {
            // A name that needed help ranks after one that did not.
            return Array.ConvertAll(found, m => m with { Rank = m.Rank + 1 });
        }
        return [];
    }

    /// <summary>A name's words, lower case: split at punctuation and where small letters turn to capitals.</summary>
    public static List<string> Tokens(string name)
    {
        List<string> tokens = [];
        StringBuilder word = new();
        for (int i = 0; i < name.Length; i++)
        {
            char c = name[i];
            bool starts = i > 0 && char.IsUpper(c) && (char.IsLower(name[i - 1]) || i + 1 < name.Length && char.IsLower(name[i + 1]) && char.IsUpper(name[i - 1]));
            if ((!char.IsLetterOrDigit(c) || starts) && word.Length > 0)
            {
                tokens.Add(word.ToString());
                word.Clear();
            }
            if (char.IsLetterOrDigit(c))
            {
                word.Append(char.ToLowerInvariant(c));
            }
        }
        if (word.Length > 0)
        {
            tokens.Add(word.ToString());
        }
        return tokens;
    }

    private static FrozenDictionary<string, HeaderMeaning[]> Build()
    {
        Dictionary<string, List<HeaderMeaning>> byWord = new(StringComparer.Ordinal);
        foreach ((Quantity quantity, int rank, string words) in Table)
        {
            foreach (string entry in words.Split(' '))
            {
                bool down = entry[0] == '-';
                string[] parts = entry.TrimStart('-').ToLowerInvariant().Split(':');
                if (!byWord.TryGetValue(parts[0], out List<HeaderMeaning>? meanings))
                {
                    byWord.Add(parts[0], meanings = []);
                }
                meanings.Add(new HeaderMeaning(quantity, rank, parts.Length > 1 ? parts[1] : null, down));
            }
        }
        return byWord.ToFrozenDictionary(p => p.Key, p => p.Value.OrderBy(m => m.Rank).ToArray(), StringComparer.Ordinal);
    }
}
