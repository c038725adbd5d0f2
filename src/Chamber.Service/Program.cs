using System.Text;
using Chamber.Service.Commands;

Console.OutputEncoding = Encoding.UTF8;
return await CommandLine.Run(args, Surroundings.OfProcess());
