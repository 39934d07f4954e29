using System.Text;
using ThermalTrace.Cli;

Console.OutputEncoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
return await CommandLine.RunAsync(args, Terminal.OfThisProcess());
